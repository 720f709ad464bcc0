using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Packages;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq import FOLDER</c>: reads a data package back, so that this RigDaq shows the same figures.</summary>
internal static class ImportCommand
{
    private static readonly Argument<string> Folder = new("FOLDER") { Description = TerminalText.ImportFolder };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("import", TerminalText.ImportCommand) { Folder, Data, Config }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        string folder = Path.GetFullPath(parsed.GetRequiredValue(Folder));
        if (!Directory.Exists(folder)) throw new InputException(TerminalText.ImportFolderNotThere(folder));
        // Someone's first study may be another's: a data folder that was named is made.
        using OpenFolder data = parsed.GetValue(Data) is { } named ? OpenFolder.At(named) : DataOption.Open(null, parsed.GetValue(Config));
        RigArchive archive = data.Archive;
        try
        {
            (string study, int runs, IReadOnlyList<string> remarks) = await StudyPackage.ReadAsync(archive, folder).ConfigureAwait(false);
            foreach (string remark in remarks) CommandRunner.Say(remark);
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study, runs, remarks });
            else CommandPlace.Output.WriteLine(TerminalText.ImportDone(study, runs));
            if (archive.Studies.Active()?.Id != study) CommandRunner.Say(TerminalText.ImportNotWorkedOn(study));
            return ExitStatus.Done;
        }
        catch (Exception e) when (e is InvalidDataException or ArchiveConflictException)
        {
            throw new InputException(e.Message);
        }
    }
}
