using System.Text.Encodings.Web;
using System.Text.Unicode;

namespace RigDaq.Reports.Html;

/// <summary>Text as markup that shows it. The page is UTF-8, so that letters and signs stand as they are.</summary>
internal static class Markup
{
    private static readonly HtmlEncoder Encoder = HtmlEncoder.Create(UnicodeRanges.All);

    /// <summary>Fit for content and for attributes in quotes.</summary>
    public static string Encoded(string text) => Encoder.Encode(text);
}
