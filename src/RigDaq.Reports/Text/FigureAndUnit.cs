using System.Text.RegularExpressions;

namespace RigDaq.Reports.Text;

/// <summary>A figure and its unit are one word to a line: they are not broken apart (ISO 80000-1, 7.1.4, from memory, asks for the space;
/// common practice keeps it from breaking).</summary>
internal static partial class FigureAndUnit
{
    /// <summary>The words of a text as lines may break it.</summary>
    public static string[] Words(string text) => Breaks().Split(text);

    /// <summary>The text with the spaces that must not break as no-break spaces.</summary>
    public static string Joined(string text) => Gap().Replace(text, "\u00a0");

    [GeneratedRegex(@"(?<=\d) (?=(?:%|°C|N|kgf|lbf|MPa|psi|mm|in|µm|µin)(?!\p{L}))")]
    private static partial Regex Gap();

    [GeneratedRegex(@" (?!(?<=\d )(?:%|°C|N|kgf|lbf|MPa|psi|mm|in|µm|µin)(?!\p{L}))")]
    private static partial Regex Breaks();
}
