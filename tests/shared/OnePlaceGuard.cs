using System.Runtime.CompilerServices;
using RigDaq.Tests.Shared;

namespace RigDaq.Tests;

/// <summary>Whatever a project says to a person is written in its Text folder, so that it can be translated there and nowhere
/// else.</summary>
public abstract class OnePlaceGuard
{
    /// <summary>The project's name, which is that of its folder.</summary>
    protected abstract string Project { get; }

    /// <summary>What stays beside its code: words that files, messages and other programs know, and what is the same in every
    /// language.</summary>
    private protected abstract IReadOnlyList<TextExemption> Exemptions { get; }

    /// <summary>Whether a folder is looked through.</summary>
    protected virtual bool IsRoom(string folder) => folder is not ("Text" or "bin" or "obj");

    /// <summary>The words in lines of code.</summary>
    protected virtual IEnumerable<string> Words(IEnumerable<string> lines) =>
        SourceText.Code(lines).SelectMany(SourceText.Literals).Where(SourceText.HasWord);

    [Fact]
    public void No_word_for_people_stands_outside_the_text_room()
    {
        (string File, string Text)[] all = All();
        Assert.NotEmpty(all);
        Assert.Empty(all.Where(found => !Exemptions.Any(exemption => exemption.Covers(found.File, found.Text)))
            .Select(found => $"{found.File}: {found.Text}"));
    }

    // An exemption that nothing needs any more would hide the next word.
    [Fact]
    public void Every_exemption_is_needed()
    {
        (string File, string Text)[] all = All();
        Assert.Empty(Exemptions.Where(exemption => !all.Any(found => exemption.Covers(found.File, found.Text)))
            .Select(exemption => $"{exemption.File}: {exemption.Texts}"));
    }

    private string Source([CallerFilePath] string here = "")
        => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "src", Project));

    private (string File, string Text)[] All() => [.. Directory.GetFiles(Source(), "*.cs", SearchOption.AllDirectories)
        .Where(file => IsRoom(Path.GetRelativePath(Source(), file).Replace('\\', '/').Split('/')[0]))
        .SelectMany(file => Words(File.ReadLines(file)).Select(text => (Path.GetFileName(file), text)))];
}
