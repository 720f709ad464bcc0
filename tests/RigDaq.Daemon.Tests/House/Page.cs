using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;

namespace RigDaq.Daemon.Tests.House;

/// <summary>A page of Markdown as it stands in the repository, taken apart as far as the tests of this folder need.</summary>
internal sealed partial class Page
{
    private static readonly string[] NotOurs = ["bin", "obj", "node_modules", ".git", "artifacts", "TestResults", "data-package-standard"];

    private readonly string[] _prose;
    private readonly List<(int Line, string Text)> _code = [];

    private Page(string file)
    {
        File = file;
        string[] lines = System.IO.File.ReadAllLines(file);
        _prose = [.. lines];
        string? fence = null;
        for (int i = 0; i < lines.Length; i++)
        {
            string trimmed = lines[i].Trim();
            bool mark = trimmed.StartsWith("```", StringComparison.Ordinal);
            bool inside = fence is not null;
            if (mark) fence = inside ? null : trimmed;
            if (!mark && !inside && !lines[i].StartsWith("    ", StringComparison.Ordinal)) continue;
            if (!mark) _code.Add((i + 1, trimmed));
            _prose[i] = "";
        }
    }

    /// <summary>Its full path.</summary>
    public string File { get; }

    /// <summary>Its path in the repository.</summary>
    public string Name => Path.GetRelativePath(Root(), File).Replace('\\', '/');

    /// <summary>The lines of code blocks, with their numbers.</summary>
    public IReadOnlyList<(int Line, string Text)> Code => _code;

    /// <summary>The code spans in the text, also over the end of a line, with the lines where they begin.</summary>
    public IEnumerable<(int Line, string Text)> Spans =>
        Span().Matches(Prose).Select(span => (LineAt(Prose, span.Index), span.Groups[1].Value.Replace('\n', ' ')));

    /// <summary>Where links and pictures lead, with their lines.</summary>
    public IEnumerable<(int Line, string Target)> Links
    {
        get
        {
            string text = Span().Replace(Prose, span => new string('\n', span.Value.Count(letter => letter == '\n')));
            return Link().Matches(text).Select(link => (LineAt(text, link.Index), link.Groups[1].Value));
        }
    }

    /// <summary>The anchors of its headings: small letters, digits and hyphens, as repositories' pages make them.</summary>
    public IEnumerable<string> Anchors => _prose.Where(line => line.StartsWith('#'))
        .Select(line => NotInAnchor().Replace(line.TrimStart('#').Trim().ToLowerInvariant(), "").Replace(' ', '-'));

    /// <summary>Every page of the repository, but for those that others wrote.</summary>
    public static IReadOnlyList<Page> All() => [.. Directory.EnumerateFiles(Root(), "*.md", SearchOption.AllDirectories)
        .Where(file => !Path.GetRelativePath(Root(), file).Split(Path.DirectorySeparatorChar).Any(NotOurs.Contains))
        .Order(StringComparer.Ordinal).Select(file => new Page(file))];

    /// <summary>One page.</summary>
    public static Page Of(params string[] path) => new(Path.Combine([Root(), .. path]));

    private string Prose => string.Join('\n', _prose);

    private static int LineAt(string text, int index) => 1 + text.AsSpan(0, index).Count('\n');

    public static string Root([CallerFilePath] string here = "")
        => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", ".."));

    [GeneratedRegex(@"`((?:[^`\n]|\n(?!\n))+)`")]
    private static partial Regex Span();

    [GeneratedRegex(@"\]\(([^()\s]+)\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"[^\p{L}\p{N} \-_]")]
    private static partial Regex NotInAnchor();
}
