using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Archive.Recovery;
using RigDaq.Core;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq backup --out FOLDER</c>: copies a data folder whole and reads the copy back.</summary>
internal static class BackupCommand
{
    private static readonly Option<string> Out = new("--out")
    { Description = TerminalText.BackupOut, HelpName = "FOLDER", Required = true };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("backup", TerminalText.BackupCommand) { Out, Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        string folder = Path.GetFullPath(parsed.GetRequiredValue(Out));
        if (File.Exists(folder)) throw new InputException(TerminalText.OptionOutIsFile(folder));
        using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        RigArchive archive = data.Archive;
        FolderReport copy;
        try
        {
            copy = archive.Backup(folder);
        }
        catch (RefusalException e)
        {
            throw new InputException(TerminalText.BackupRefused(folder, e.Message));
        }

        foreach (string finding in copy.Findings) CommandRunner.Say(finding);
        if (copy.KeptOfBefore.Count > 0) CommandRunner.Say(TerminalText.BackupBeforeKept(copy.KeptOfBefore));
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
        { folder, runs = copy.Runs, damaged = copy.Findings, keptOfBefore = copy.KeptOfBefore });
        else CommandPlace.Output.WriteLine(TerminalText.BackupDone(folder, copy.Runs, copy.Findings.Count));
        return copy.Findings.Count == 0 ? ExitStatus.Done : ExitStatus.CouldNotBeDone;
    }
}
