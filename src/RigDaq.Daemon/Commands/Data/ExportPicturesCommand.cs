using System.CommandLine;
using System.Globalization;
using RigDaq.App.Input;
using RigDaq.App.Reporting;
using RigDaq.Archive;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Reports.Pictures;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq pictures STUDY --out FOLDER</c>: a study's pictures for a page, for paper or for video.</summary>
internal static class ExportPicturesCommand
{
    private static readonly Dictionary<string, PictureStyle> Styles = new()
    {
        ["page"] = PictureStyle.Page,
        ["paper"] = PictureStyle.Paper,
        ["video"] = PictureStyle.Video,
        ["video-large"] = PictureStyle.VideoLarge,
    };

    private static readonly Dictionary<string, PictureStyle> Ratios = new()
    {
        ["16:9"] = PictureStyle.Wide,
        ["9:16"] = PictureStyle.Upright,
        ["1:1"] = PictureStyle.Square,
    };

    private static readonly Argument<string> Study = new("STUDY") { Description = TerminalText.StudyId };
    private static readonly Option<string> Out = new("--out")
    { Description = TerminalText.PicturesOut, HelpName = "FOLDER", Required = true };
    private static readonly Option<string> Style = new("--style")
    {
        Description = TerminalText.PicturesStyle,
        DefaultValueFactory = _ => "page",
        HelpName = "STYLE",
    };

    private static readonly Option<string> Format = new("--format")
    { Description = TerminalText.PicturesFormat, DefaultValueFactory = _ => "svg", HelpName = "FORMAT" };
    private static readonly Option<bool> Dark = new("--dark") { Description = TerminalText.PicturesDark };
    private static readonly Option<bool> Transparent = new("--transparent") { Description = TerminalText.PicturesTransparent };
    private static readonly Option<string[]> Only = new("--only") { Description = TerminalText.PicturesOnly, HelpName = "NAME" };
    private static readonly Option<string?> Title = new("--title") { Description = TerminalText.PicturesTitle };
    private static readonly Option<string?> Ratio = new("--ratio") { Description = TerminalText.PicturesRatio, HelpName = "16:9|9:16|1:1" };
    private static readonly Option<bool> Values = new("--values") { Description = TerminalText.PicturesValues };
    private static readonly Option<bool> BuildUp = new("--build-up") { Description = TerminalText.PicturesBuildUp };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() =>
        new Command("pictures", TerminalText.PicturesCommand) { Study, Out, Style, Format, Only, Title, Ratio, Values, BuildUp, Dark,
            Transparent, Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        string styleName = parsed.GetRequiredValue(Style);
        if (!Styles.TryGetValue(styleName, out PictureStyle? style)) throw new InputException(TerminalText.PicturesStyleNotKnown(styleName,
            Styles.Keys));
        string format = parsed.GetRequiredValue(Format);
        if (format is not ("svg" or "png")) throw new InputException(TerminalText.PicturesFormatNotKnown(format));
        if (parsed.GetValue(Ratio) is { } ratio
            && !Ratios.TryGetValue(ratio, out style)) throw new InputException(TerminalText.PicturesRatioNotKnown(ratio, Ratios.Keys));
        style = style with
        {
            Titled = true,
            OwnTitle = parsed.GetValue(Title),
            Values = parsed.GetValue(Values),
            Dark = parsed.GetValue(Dark),
            Transparent = parsed.GetValue(Transparent)
        };
        string folder = Path.GetFullPath(parsed.GetRequiredValue(Out));
        if (File.Exists(folder)) throw new InputException(TerminalText.OptionOutIsFile(folder));
        using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        RigArchive archive = data.Archive;
        string id = parsed.GetRequiredValue(Study);
        var model = new StudyReporter(archive, TimeProvider.System, UnitsOption.Of(parsed, parsed.GetValue(Config))).Model(id)
            ?? throw DataOption.NoSuchStudy(archive.Studies, id);
        IReadOnlyList<Picture> pictures = Chosen(StudyPictures.WithCalibrations(model), parsed.GetValue(Only) ?? []);
        Directory.CreateDirectory(folder);
        var files = new List<string>();
        foreach (Picture picture in pictures)
        {
            if (!parsed.GetValue(BuildUp) || picture.Steps < 2) Write(picture.Name, picture, style);
            // The last of the series is the whole picture.
            else for (int step = 0; step <= picture.Steps; step++)
                Write(string.Create(CultureInfo.InvariantCulture, $"{picture.Name}-{step:00}"), picture, style with { Reveal = step });
        }

        void Write(string name, Picture picture, PictureStyle drawn)
        {
            string file = Path.Combine(folder, $"{name}.{format}");
            if (format == "svg") File.WriteAllText(file, picture.ToSvg(drawn));
            else File.WriteAllBytes(file, picture.ToPng(drawn));
            files.Add(file);
        }

        if (files.Count == 0) CommandRunner.Say(TerminalText.PicturesNone(id));
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = id, pictures = files });
        else foreach (string file in files) CommandPlace.Output.WriteLine(file);
        return ExitStatus.Done;
    }

    /// <summary>Those that were named, by a name or its beginning; all where none was.</summary>
    private static IReadOnlyList<Picture> Chosen(IReadOnlyList<Picture> pictures, string[] names)
    {
        if (names.Length == 0) return pictures;
        foreach (string name in names
            .Where(name => pictures.All(picture => !Fits(picture, name)))) throw new InputException(TerminalText.PicturesNoSuch(name,
            pictures.Select(picture => picture.Name)));
        return [.. pictures.Where(picture => names.Any(name => picture.Name == name)
            || names.Any(name => pictures.All(other => other.Name != name) && Fits(picture, name)))];

        static bool Fits(Picture picture, string name) => picture.Name == name
            || picture.Name.StartsWith(name + "-", StringComparison.Ordinal);
    }
}
