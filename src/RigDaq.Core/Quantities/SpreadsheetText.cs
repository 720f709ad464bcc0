namespace RigDaq.Core.Quantities;

/// <summary>
/// Text in a cell of a table that a spreadsheet may open: what it would run as a formula gets an apostrophe before it, which a spreadsheet
/// takes for "this is text" (OWASP, CSV Injection; from memory). Our own readers take the apostrophe off again, so that a name comes back
/// unchanged.
/// </summary>
public static class SpreadsheetText
{
    private const char Mark = '\'';

    /// <summary>The text as it is written.</summary>
    public static string Guarded(string text) => WouldRun(text) ? Mark + text : text;

    /// <summary>The text as it was before it was written; what never needed a mark stays as it is.</summary>
    public static string Unguarded(string text) => text.Length > 1 && text[0] == Mark && WouldRun(text[1..]) ? text[1..] : text;

    // A mark before such a text is marked again: so every text comes back.
    private static bool WouldRun(string text)
    {
        string bare = text.TrimStart(Mark);
        return bare.Length > 0 && bare[0] is ('=' or '+' or '-' or '@' or '\t' or '\r' or '\n' or '＝' or '＋' or '－' or '＠');
    }
}
