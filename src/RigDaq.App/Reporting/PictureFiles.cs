using System.Globalization;
using RigDaq.Reports.Pictures;

namespace RigDaq.App.Reporting;

/// <summary>A study's pictures as files: in which styles, which of them, under which names.</summary>
internal static class PictureFiles
{
    /// <summary>The style for a page of a document.</summary>
    public const string PageStyle = "page";

    private static readonly Dictionary<string, PictureStyle> ByStyle = new()
    {
        [PageStyle] = PictureStyle.Page,
        ["paper"] = PictureStyle.Paper,
        ["video"] = PictureStyle.Video,
        ["video-large"] = PictureStyle.VideoLarge,
    };

    private static readonly Dictionary<string, PictureStyle> ByRatio = new()
    {
        ["16:9"] = PictureStyle.Wide,
        ["9:16"] = PictureStyle.Upright,
        ["1:1"] = PictureStyle.Square,
    };

    /// <summary>The names of the styles.</summary>
    public static IReadOnlyCollection<string> Styles => ByStyle.Keys;

    /// <summary>The ratios that stand for a style.</summary>
    public static IReadOnlyCollection<string> Ratios => ByRatio.Keys;

    /// <summary>The style of that name, or of that ratio where one is said; null where there is none.</summary>
    public static PictureStyle? StyleOf(string style, string? ratio) =>
        ratio is null ? ByStyle.GetValueOrDefault(style) : ByRatio.GetValueOrDefault(ratio);

    /// <summary>Those that were named, by a name or its beginning; all where none was.</summary>
    public static IReadOnlyList<Picture> Chosen(IReadOnlyList<Picture> pictures, IReadOnlyList<string> names) => names.Count == 0 ? pictures
        : [.. pictures.Where(picture => names.Any(name => picture.Name == name)
            || names.Any(name => pictures.All(other => other.Name != name) && Fits(picture, name)))];

    /// <summary>Whether a name is a picture's, or its beginning.</summary>
    public static bool Fits(Picture picture, string name) => picture.Name == name
        || picture.Name.StartsWith(name + "-", StringComparison.Ordinal);

    /// <summary>Writes them.</summary>
    /// <param name="pictures">Which.</param>
    /// <param name="style">How they are drawn.</param>
    /// <param name="folder">Where to; it is made.</param>
    /// <param name="format">svg or png.</param>
    /// <param name="buildUp">Whether each comes as a series that builds it up; the last of the series is the whole picture.</param>
    /// <param name="step">Is told how many files are there, and of how many; null for nobody.</param>
    /// <returns>The files.</returns>
    /// <exception cref="IOException">One cannot be written.</exception>
    public static IReadOnlyList<string> Write(IReadOnlyList<Picture> pictures, PictureStyle style, string folder, string format,
        bool buildUp, Action<int, int>? step = null)
    {
        Directory.CreateDirectory(folder);
        var files = new List<string>();
        int all = pictures.Sum(picture => IsSeries(picture) ? picture.Steps + 1 : 1);
        foreach (Picture picture in pictures)
        {
            if (!IsSeries(picture)) Draw(picture.Name, picture, style);
            else for (int stage = 0; stage <= picture.Steps; stage++)
                Draw(string.Create(CultureInfo.InvariantCulture, $"{picture.Name}-{stage:00}"), picture, style with { Reveal = stage });
        }

        return files;

        bool IsSeries(Picture picture) => buildUp && picture.Steps >= 2;

        void Draw(string name, Picture picture, PictureStyle drawn)
        {
            step?.Invoke(files.Count, all);
            string file = Path.Combine(folder, $"{name}.{format}");
            if (format == "svg") File.WriteAllText(file, picture.ToSvg(drawn));
            else File.WriteAllBytes(file, picture.ToPng(drawn));
            files.Add(file);
        }
    }
}
