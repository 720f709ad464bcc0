using PdfSharp.Drawing;
using PdfSharp.Fonts;
using RigDaq.Reports.Fonts;

namespace RigDaq.Reports.Pdf;

/// <summary>The built-in typeface for documents; embedded, so that a file looks the same everywhere.</summary>
internal static class PdfFonts
{
    private static readonly Lazy<bool> Registered = new(() =>
    {
        GlobalFontSettings.FontResolver = new Resolver();
        return true;
    });

    public static XFont Regular(double points) => Make(points, XFontStyleEx.Regular);

    public static XFont Bold(double points) => Make(points, XFontStyleEx.Bold);

    private static XFont Make(double points, XFontStyleEx style)
    {
        _ = Registered.Value;
        return new XFont(EmbeddedFonts.Family, points, style);
    }

    private sealed class Resolver : IFontResolver
    {
        public FontResolverInfo ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? "bold" : "regular");

        public byte[] GetFont(string faceName) => EmbeddedFonts.Bytes(faceName == "bold");
    }
}
