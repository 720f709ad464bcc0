using System.CommandLine;
using System.Text.RegularExpressions;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.House;

/// <summary>What the pages promise is there: links lead somewhere, command lines parse, options exist. Checked against the files and the
/// command tree.</summary>
[Collection(nameof(PrintedOutput))]
public sealed partial class PagesTest
{
    private const string Program = "rigdaq ";
    private const string FromSource = "dotnet run --project src/RigDaq.Daemon -- ";

    /// <summary>Options of other programs that the pages name in their text.</summary>
    private static readonly string[] OptionsOfOthers = ["--speed -1"];

    /// <summary>How the command lines are typed, said once for all of them.</summary>
    private const string AnyCommand = "COMMAND";

    [Fact]
    public void Every_relative_link_and_every_picture_leads_somewhere()
    {
        var dead = new List<string>();
        int looked = 0;
        foreach (Page page in Page.All())
        {
            foreach ((int line, string target) in page.Links.Where(link => !Elsewhere().IsMatch(link.Target)))
            {
                looked++;
                string[] parts = target.Split('#', 2);
                string file = parts[0].Length == 0 ? page.File
                    : Path.GetFullPath(Path.Combine(Path.GetDirectoryName(page.File)!, parts[0]));
                bool there = File.Exists(file) || Directory.Exists(file);
                if (there && parts.Length == 2) there = Page.Of(file).Anchors.Contains(parts[1]);
                if (!there) dead.Add($"{page.Name}:{line}: {target}");
            }
        }

        Assert.Equal("", string.Join('\n', dead));
        Assert.InRange(looked, 50, int.MaxValue);
    }

    [Fact]
    public void Every_command_line_in_a_block_parses()
    {
        RootCommand tree = CommandTree.Create();
        HashSet<string> known = [.. Options(tree)];
        string[] faults = [.. Lines().SelectMany(one => tree.Parse(one.Words).Errors.Select(error => error.Message)
            // A command that takes many files takes a misspelt option for one of them.
            .Concat(one.Words.Where(word => word.StartsWith("--", StringComparison.Ordinal) && !known.Contains(word)))
            .Select(fault => $"{one.Where}: {string.Join(' ', one.Words)}: {fault}"))];
        Assert.Equal("", string.Join('\n', faults));
        Assert.InRange(Lines().Count(), 20, int.MaxValue);
    }

    /// <summary>In a sentence a command may stand without what it needs, but not with anything that it does not know.</summary>
    [Fact]
    public void Every_command_that_a_sentence_names_is_known()
    {
        RootCommand tree = CommandTree.Create();
        string[] faults = [.. Page.All().SelectMany(page => page.Spans
            .Where(span => Typed(span.Text) is not (null or AnyCommand))
            .Select(span => ($"{page.Name}:{span.Line}: {span.Text}", tree.Parse(Words(Typed(span.Text)!)).UnmatchedTokens)))
            .Where(one => one.UnmatchedTokens.Count > 0).Select(one => $"{one.Item1}: {string.Join(' ', one.UnmatchedTokens)}")];
        Assert.Equal("", string.Join('\n', faults));
    }

    [Fact]
    public void Every_option_that_a_sentence_names_is_an_option_of_some_command()
    {
        HashSet<string> known = [.. Options(CommandTree.Create())];
        string[] faults = [.. Page.All().SelectMany(page => page.Spans
            .Where(span => span.Text.StartsWith("--", StringComparison.Ordinal) && !OptionsOfOthers.Contains(span.Text))
            .SelectMany(span => Words(span.Text).Where(word => word.StartsWith("--", StringComparison.Ordinal) && !known.Contains(word))
                .Select(word => $"{page.Name}:{span.Line}: {word}")))];
        Assert.Equal("", string.Join('\n', faults));
    }

    private static IEnumerable<(string Where, string[] Words)> Lines()
    {
        foreach (Page page in Page.All())
        {
            string? begun = null;
            foreach ((int line, string text) in page.Code)
            {
                string whole = begun is null ? text : $"{begun} {text}";
                begun = null;
                if (whole.EndsWith('\\')) begun = whole[..^1].TrimEnd();
                else if (Typed(whole) is { } typed) yield return ($"{page.Name}:{line}", Words(typed));
            }
        }
    }

    /// <summary>What is typed after the program's name; null where it is another program.</summary>
    private static string? Typed(string line)
    {
        string text = Environment().Replace(line, "");
        if (text.StartsWith(FromSource, StringComparison.Ordinal)) return text[FromSource.Length..];
        return text.StartsWith(Program, StringComparison.Ordinal) ? text[Program.Length..] : null;
    }

    /// <summary>The words as a shell would hand them over: what follows two blanks is a remark, what may be left out is there, of several
    /// choices the first.</summary>
    private static string[] Words(string typed)
    {
        string line = Remark().Replace(typed, "").Replace("[", "", StringComparison.Ordinal).Replace("]", "", StringComparison.Ordinal);
        return [.. Word().Matches(line).Select(word => word.Value).Select(word => word switch
        {
            // A number is left to the reader.
            "N" => "1",
            _ when word.Contains('"', StringComparison.Ordinal) => word.Replace("\"", "", StringComparison.Ordinal),
            _ => word.Split('|')[0],
        })];
    }

    private static IEnumerable<string> Options(Command command) =>
        [.. command.Options.Select(option => option.Name), .. command.Subcommands.SelectMany(Options)];

    [GeneratedRegex("^[a-z]+:")]
    private static partial Regex Elsewhere();

    [GeneratedRegex(@"^(?:RIGDAQ__\w+=\S+ )+")]
    private static partial Regex Environment();

    [GeneratedRegex(@"\s{2,}.*$")]
    private static partial Regex Remark();

    [GeneratedRegex("""(?:[^\s"]|"[^"]*")+""")]
    private static partial Regex Word();
}
