using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>How a picture is drawn: its size, its ground, how large everything on it is.</summary>
public sealed record PictureStyle
{
    /// <summary>For a page of a document.</summary>
    public static readonly PictureStyle Page = new() { WidthPixels = 900, HeightPixels = 520 };

    /// <summary>For a page on a phone: as wide as its screen, so that nothing is drawn smaller than it is to be read.</summary>
    public static readonly PictureStyle Narrow = new() { WidthPixels = 360, HeightPixels = 520 };

    /// <summary>For print: three times the page's pixels, everything as large on paper.</summary>
    public static readonly PictureStyle Paper = new() { WidthPixels = 2700, HeightPixels = 1560, Scale = 3, Titled = true };

    /// <summary>For video in full high definition, with large type.</summary>
    public static readonly PictureStyle Video = new()
    {
        WidthPixels = 1920,
        HeightPixels = 1080,
        Scale = 2,
        Titled = true,
        ExactSize = true
    };

    /// <summary>For video in twice that.</summary>
    public static readonly PictureStyle VideoLarge = new()
    {
        WidthPixels = 3840,
        HeightPixels = 2160,
        Scale = 4,
        Titled = true,
        ExactSize = true
    };

    /// <summary>Upright, for a phone held as it is held.</summary>
    public static readonly PictureStyle Upright = new()
    {
        WidthPixels = 1080,
        HeightPixels = 1920,
        Scale = 2,
        Titled = true,
        ExactSize = true,
        MarginShare = 0.06
    };

    /// <summary>As wide as high.</summary>
    public static readonly PictureStyle Square = new()
    {
        WidthPixels = 1080,
        HeightPixels = 1080,
        Scale = 1.7,
        Titled = true,
        ExactSize = true,
        MarginShare = 0.05
    };

    /// <summary>As wide as a screen.</summary>
    public static readonly PictureStyle Wide = new()
    {
        WidthPixels = 1920,
        HeightPixels = 1080,
        Scale = 2.2,
        Titled = true,
        ExactSize = true,
        MarginShare = 0.05
    };

    /// <summary>Width in pixels, 200 to 8,000.</summary>
    public int WidthPixels { get; init; } = 900;

    /// <summary>Height in pixels, 150 to 8,000; a picture with many rows may take more.</summary>
    public int HeightPixels { get; init; } = 520;

    /// <summary>By how much type and lines are larger than on a page, 0.5 to 8.</summary>
    public double Scale { get; init; } = 1;

    /// <summary>Light type on a dark ground.</summary>
    public bool Dark { get; init; }

    /// <summary>No ground at all, to be laid over something else.</summary>
    public bool Transparent { get; init; }

    /// <summary>With its title on it, because it is to stand alone.</summary>
    public bool Titled { get; init; }

    /// <summary>Exactly this size: a picture with many rows is drawn smaller instead of taking more height.</summary>
    public bool ExactSize { get; init; }

    /// <summary>A title instead of the picture's own; null for its own.</summary>
    public string? OwnTitle { get; init; }

    /// <summary>Whether the values stand beside the means.</summary>
    public bool Values { get; init; }

    /// <summary>The margin on every side that players and phones may cover, as a share of the shorter side, 0 to 0.2.</summary>
    public double MarginShare { get; init; }

    /// <summary>How many series are drawn, for a talk that reveals one after another; the axes stay those of all. Null for all.</summary>
    public int? Reveal { get; init; }

    internal bool Shows(int series) => Reveal is not { } shown || series < shown;

    internal int MarginPixels => (int)(MarginShare * Math.Min(WidthPixels, HeightPixels));

    // Enough that a note can be read on white and on black (tested against WCAG).
    private const double NoteGroundShare = 0.7;

    internal Color Ink => Color.FromHex(Dark ? "#e8e6e1" : "#1c1b1a");

    // What lies under a picture without a ground is not known: small type is as strong as large, lines and bands are a
    // shade of whatever is there, and notes bring a little ground of their own.
    internal Color Muted => Transparent ? Ink : Color.FromHex(Dark ? "#a9a59d" : "#5f5b55");

    internal Color GridLine => Transparent ? Ink.WithAlpha(0.16) : Color.FromHex(Dark ? "#3b3a37" : "#e2dfda");

    internal Color Ground => Transparent ? Colors.Transparent : OwnGround;

    internal Color NoteGround => Transparent ? OwnGround.WithAlpha(NoteGroundShare) : OwnGround;

    internal Color Band => Transparent ? Ink.WithAlpha(0.12) : Color.FromHex(Dark ? "#2a2926" : "#f1efea");

    internal Color OwnGround => Color.FromHex(Dark ? "#191817" : "#fffefd");

    /// <summary>The series colours of Okabe and Ito, "Color Universal Design" (2008; also Wong, Nature Methods 8, 441, 2011), in an order
    /// that keeps neighbours far apart; on dark ground its lighter members come first.</summary>
    internal Color Series(int index) => Color.FromHex((Dark ? DarkSeries : LightSeries)[index % LightSeries.Length]);

    internal static MarkerShape Shape(int index) => Shapes[index % Shapes.Length];

    internal static readonly string[] LightSeries = ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#56b4e9"];

    internal static readonly string[] DarkSeries = ["#56b4e9", "#e69f00", "#03b584", "#cc79a7", "#f0e442", "#d55e00"];

    private static readonly MarkerShape[] Shapes =
    [
        MarkerShape.FilledCircle, MarkerShape.FilledSquare, MarkerShape.FilledTriangleUp, MarkerShape.FilledDiamond,
        MarkerShape.FilledTriangleDown, MarkerShape.Asterisk,
    ];
}
