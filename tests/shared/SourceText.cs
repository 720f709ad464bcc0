using System.Text.RegularExpressions;

namespace RigDaq.Tests.Shared;

/// <summary>The texts in a line of C#: what stands between quotation marks, without what is filled in.</summary>
internal static partial class SourceText
{
    /// <summary>Whether the line is neither a comment nor a fault of the program, which is told to who mends it in the language of the
    /// code.</summary>
    public static bool IsCode(string line) => !line.TrimStart().StartsWith("//", StringComparison.Ordinal) && !Fault().IsMatch(line);

    /// <summary>The lines that are code, without what is told to the log, which is searched for in the words of the code.</summary>
    public static IEnumerable<string> Code(IEnumerable<string> lines)
    {
        bool logs = false;
        foreach (string line in lines.Where(IsCode))
        {
            logs |= Log().IsMatch(line);
            if (!logs) yield return line;
            // A call of the log ends where its statement does.
            logs &= !line.EndsWith(';');
        }
    }

    /// <summary>The texts of a line, escapes as blanks.</summary>
    public static IEnumerable<string> Literals(string line)
    {
        // What is filled into a text is code again, with texts of its own.
        string flat = line;
        for (Match hole = Hole().Match(flat); hole.Success; hole = Hole().Match(flat))
        {
            foreach (string inner in Literals(hole.Groups["code"].Value)) yield return inner;
            flat = flat.Remove(hole.Index, hole.Length);
        }

        foreach (Match literal in Literal().Matches(flat)) yield return Escape().Replace(literal.Groups["text"].Value, " ");
    }

    /// <summary>Whether there is a word in it.</summary>
    public static bool HasWord(string text) => Word().IsMatch(text);

    [GeneratedRegex("""\{(?<code>[^{}"]*(?:"[^"]*"[^{}"]*)*)\}""")]
    private static partial Regex Hole();

    [GeneratedRegex("\"(?<text>(?:[^\"\\\\]|\\\\.)*)\"")]
    private static partial Regex Literal();

    [GeneratedRegex("\\\\(?:u[0-9a-fA-F]{4}|.)")]
    private static partial Regex Escape();

    [GeneratedRegex(@"\bthrow new (?:Argument|InvalidOperation|NotSupported)\w*\(")]
    private static partial Regex Fault();

    [GeneratedRegex(@"\b_?[lL]og(?:ger)?\.Log(?:Debug|Information|Warning|Error|Critical)\(")]
    private static partial Regex Log();

    [GeneratedRegex(@"\p{L}{2,}")]
    private static partial Regex Word();
}
