namespace RigDaq.Reports.Html;

/// <summary>Text as markup that shows it. The page is UTF-8, so nothing else needs an escape.</summary>
internal static class Markup
{
    /// <summary>Fit for content and for attributes in double quotes.</summary>
    public static string Encoded(string text) => text
        .Replace("&", "&amp;", StringComparison.Ordinal)
        .Replace("<", "&lt;", StringComparison.Ordinal)
        .Replace(">", "&gt;", StringComparison.Ordinal)
        .Replace("\"", "&quot;", StringComparison.Ordinal);
}
