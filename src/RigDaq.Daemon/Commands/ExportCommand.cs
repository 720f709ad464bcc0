using System.CommandLine;
using System.Globalization;
using RigDaq.Archive;
using RigDaq.Archive.Packages;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Reporting;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq export STUDY --out FOLDER</c>: a study as a data package that other programs read.</summary>
internal static class ExportCommand
{
    private static readonly Argument<string> Study = new("STUDY") { Description = "The study's id." };
    private static readonly Option<string> Out = new("--out") { Description = "A new or empty folder.", HelpName = "FOLDER", Required = true };
    private static readonly Option<string?> Licence = new("--licence")
    {
        Description = "The licence you pick for the data, by its SPDX name: CC0-1.0, CC-BY-4.0. Without one nobody else may use it.",
        HelpName = "NAME",
    };

    private static readonly Option<string> Traces = new("--traces") { Description = "parquet (small) or csv (read by everything).", DefaultValueFactory = _ => "parquet", HelpName = "FORMAT" };
    private static readonly Option<bool> NoPhotos = new("--no-photos") { Description = "Leave the photos of broken pieces out." };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() =>
        new Command("export", "Write a study as a data package that other programs read.") { Study, Out, Licence, Traces, NoPhotos, Data, Config }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        string format = parsed.GetRequiredValue(Traces);
        if (format is not ("parquet" or "csv")) throw new InputException($"--traces {format}: expected parquet or csv.");
        string folder = Path.GetFullPath(parsed.GetRequiredValue(Out));
        if (File.Exists(folder)) throw new InputException($"--out {folder}: that is a file; a new or empty folder was expected.");
        if (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any())
            throw new InputException($"--out {folder}: the folder is not empty; choose a new one, nothing is overwritten.");
        string id = parsed.GetRequiredValue(Study);
        using RigArchive archive = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        if (archive.Studies.Find(id) is null) throw DataOption.NoSuchStudy(archive, id);
        var options = new PackageOptions { Licence = parsed.GetValue(Licence), TracesAsCsv = format == "csv", Photos = !parsed.GetValue(NoPhotos), Version = StudyReporter.Version };
        PackagePhotos photos = StudyPackage.Photos(archive, id);
        IReadOnlyList<string> files = await StudyPackage.WriteAsync(archive, id, folder, options).ConfigureAwait(false);
        if (options.Licence is null) CommandRunner.Say("No licence was picked (--licence): others may look at the data, and little more.");
        SayOfPhotos(photos, options.Photos);
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = id, folder, files, licence = options.Licence });
        else Console.WriteLine(folder);
        return ExitStatus.Done;
    }

    private static void SayOfPhotos(PackagePhotos photos, bool taken)
    {
        foreach (string fault in photos.Faults) CommandRunner.Say(fault);
        if (!taken || photos.Count == 0) return;
        CommandRunner.Say(string.Create(CultureInfo.InvariantCulture, $"{photos.Count} photos went along, {photos.Bytes / 1e6:0.0} MB (--no-photos leaves them out)."));
        if (photos.WithCameraData > 0)
            CommandRunner.Say($"{photos.WithCameraData} of them carry what the camera wrote besides the picture, often the place where it was taken. Look before you publish.");
    }
}
