using System.Reflection;
using ScottPlot;
using SkiaSharp;

namespace RigDaq.Reports.Fonts;

/// <summary>The typeface of pictures and documents, carried along: on a machine without fonts the drawing library leaves all text out and
/// says nothing. Its widths are those of Arial and Helvetica, so that an SVG looks the same where it is not installed.</summary>
internal static class EmbeddedFonts
{
    /// <summary>The name it goes by in pictures.</summary>
    public const string Family = "Liberation Sans";

    private static readonly Lazy<bool> Registered = new(Register);

    /// <summary>The file of a face.</summary>
    public static byte[] Bytes(bool bold) => Resource(bold ? "LiberationSans-Bold.ttf" : "LiberationSans-Regular.ttf");

    /// <summary>Text that was built into this room.</summary>
    public static string Text(string name) => System.Text.Encoding.UTF8.GetString(Resource(name));

    /// <summary>Makes the drawing library use it; to be called before anything is drawn.</summary>
    public static void Use() => _ = Registered.Value;

    private static bool Register()
    {
        ScottPlot.Fonts.FontResolvers.Insert(0, new Resolver());
        ScottPlot.Fonts.Default = Family;
        ScottPlot.Fonts.Sans = Family;
        return true;
    }

    private static byte[] Resource(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)!;
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private sealed class Resolver : IFontResolver
    {
        private readonly SKTypeface _regular = Load(bold: false);
        private readonly SKTypeface _bold = Load(bold: true);

        // Whatever is asked for: a picture must not depend on what a machine has installed.
        public SKTypeface CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
            weight >= FontWeight.SemiBold ? _bold : _regular;

        public SKTypeface CreateTypeface(string fontName, bool bold, bool italic) => bold ? _bold : _regular;

        private static SKTypeface Load(bool bold)
        {
            using var data = SKData.CreateCopy(Bytes(bold));
            return SKTypeface.FromData(data);
        }
    }
}
