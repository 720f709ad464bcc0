using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Reporting;
using RigDaq.Archive;
using RigDaq.Archive.Packages;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq export STUDY --out FOLDER</c>: a study as a data package that other programs read.</summary>
internal static class ExportCommand
{
    private static readonly Argument<string> Study = new("STUDY") { Description = TerminalText.StudyId };
    private static readonly Option<string> Out = new("--out")
    { Description = TerminalText.ExportOut, HelpName = "FOLDER", Required = true };
    private static readonly Option<string?> Licence = new("--licence")
    {
        Description = TerminalText.ExportLicence,
        HelpName = "NAME",
    };

    private static readonly Option<string> Traces = new("--traces")
    { Description = TerminalText.ExportTraces, DefaultValueFactory = _ => "parquet", HelpName = "FORMAT" };
    private static readonly Option<bool> NoPhotos = new("--no-photos") { Description = TerminalText.ExportNoPhotos };
    private static readonly Option<bool> NoNames = new("--no-names") { Description = TerminalText.ExportNoNames };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() =>
        new Command("export", TerminalText.ExportCommand) { Study, Out, Licence, Traces, NoPhotos, NoNames, Data, Config }
            .WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        string format = parsed.GetRequiredValue(Traces);
        if (format is not ("parquet" or "csv")) throw new InputException(TerminalText.ExportTracesNotKnown(format));
        string folder = Path.GetFullPath(parsed.GetRequiredValue(Out));
        if (File.Exists(folder)) throw new InputException(TerminalText.ExportOutIsFile(folder));
        if (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any())
            throw new InputException(TerminalText.ExportOutNotEmpty(folder));
        string id = parsed.GetRequiredValue(Study);
        using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        RigArchive archive = data.Archive;
        if (archive.Studies.Find(id) is null) throw DataOption.NoSuchStudy(archive.Studies, id);
        var options = new PackageOptions
        {
            Licence = parsed.GetValue(Licence),
            TracesAsCsv = format == "csv",
            Photos = !parsed.GetValue(NoPhotos),
            Names = !parsed.GetValue(NoNames),
            Version = StudyReporter.Version
        };
        PackagePhotos photos = StudyPackage.Photos(archive, id);
        IReadOnlyList<string> files = await StudyPackage.WriteAsync(archive, id, folder, options).ConfigureAwait(false);
        if (options.Licence is null) CommandRunner.Say(TerminalText.ExportWithoutLicence);
        SayOfPhotos(photos, options.Photos);
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = id, folder, files, licence = options.Licence });
        else CommandPlace.Output.WriteLine(folder);
        return ExitStatus.Done;
    }

    private static void SayOfPhotos(PackagePhotos photos, bool taken)
    {
        foreach (string fault in photos.Faults) CommandRunner.Say(fault);
        if (!taken || photos.Count == 0) return;
        CommandRunner.Say(TerminalText.ExportPhotos(photos.Count, photos.Bytes));
        if (photos.WithCameraData > 0)
            CommandRunner.Say(TerminalText.ExportCameraData(photos.WithCameraData));
    }
}
