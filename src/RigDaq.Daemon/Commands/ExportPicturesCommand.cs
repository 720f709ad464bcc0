using System.CommandLine;
using RigDaq.Archive;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Reporting;
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

    private static readonly Argument<string> Study = new("STUDY") { Description = TerminalText.StudyId };
    private static readonly Option<string> Out = new("--out") { Description = TerminalText.PicturesOut, HelpName = "FOLDER", Required = true };
    private static readonly Option<string> Style = new("--style")
    {
        Description = TerminalText.PicturesStyle,
        DefaultValueFactory = _ => "page",
        HelpName = "STYLE",
    };

    private static readonly Option<string> Format = new("--format") { Description = TerminalText.PicturesFormat, DefaultValueFactory = _ => "svg", HelpName = "FORMAT" };
    private static readonly Option<bool> Dark = new("--dark") { Description = TerminalText.PicturesDark };
    private static readonly Option<bool> Transparent = new("--transparent") { Description = TerminalText.PicturesTransparent };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() =>
        new Command("pictures", TerminalText.PicturesCommand) { Study, Out, Style, Format, Dark, Transparent, Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        string styleName = parsed.GetRequiredValue(Style);
        if (!Styles.TryGetValue(styleName, out PictureStyle? style)) throw new InputException(TerminalText.PicturesStyleNotKnown(styleName, Styles.Keys));
        string format = parsed.GetRequiredValue(Format);
        if (format is not ("svg" or "png")) throw new InputException(TerminalText.PicturesFormatNotKnown(format));
        style = style with { Titled = true, Dark = parsed.GetValue(Dark), Transparent = parsed.GetValue(Transparent) };
        string folder = Path.GetFullPath(parsed.GetRequiredValue(Out));
        if (File.Exists(folder)) throw new InputException(TerminalText.OptionOutIsFile(folder));
        using RigArchive archive = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        string id = parsed.GetRequiredValue(Study);
        var model = new StudyReporter(archive, archive, archive, TimeProvider.System, archive, UnitsOption.Of(parsed, parsed.GetValue(Config))).Model(id) ?? throw DataOption.NoSuchStudy(archive, id);
        Directory.CreateDirectory(folder);
        var files = new List<string>();
        foreach (Picture picture in StudyPictures.WithCalibrations(model))
        {
            string file = Path.Combine(folder, $"{picture.Name}.{format}");
            if (format == "svg") File.WriteAllText(file, picture.ToSvg(style));
            else File.WriteAllBytes(file, picture.ToPng(style));
            files.Add(file);
        }

        if (files.Count == 0) CommandRunner.Say(TerminalText.PicturesNone(id));
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = id, pictures = files });
        else foreach (string file in files) Console.WriteLine(file);
        return ExitStatus.Done;
    }
}
