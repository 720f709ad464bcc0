using System.CommandLine;
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
        if (PictureFiles.StyleOf(styleName, null) is not { } style)
            throw new InputException(TerminalText.PicturesStyleNotKnown(styleName, PictureFiles.Styles));
        string format = parsed.GetRequiredValue(Format);
        if (format is not ("svg" or "png")) throw new InputException(TerminalText.PicturesFormatNotKnown(format));
        if (parsed.GetValue(Ratio) is { } ratio) style = PictureFiles.StyleOf(styleName, ratio)
            ?? throw new InputException(TerminalText.PicturesRatioNotKnown(ratio, PictureFiles.Ratios));
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
        IReadOnlyList<string> files = PictureFiles.Write(pictures, style, folder, format, parsed.GetValue(BuildUp));
        if (files.Count == 0) CommandRunner.Say(TerminalText.PicturesNone(id));
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = id, pictures = files });
        else foreach (string file in files) CommandPlace.Output.WriteLine(file);
        return ExitStatus.Done;
    }

    private static IReadOnlyList<Picture> Chosen(IReadOnlyList<Picture> pictures, string[] names)
    {
        foreach (string name in names.Where(name => !pictures.Any(picture => PictureFiles.Fits(picture, name))))
            throw new InputException(TerminalText.PicturesNoSuch(name, pictures.Select(picture => picture.Name)));
        return PictureFiles.Chosen(pictures, names);
    }
}
