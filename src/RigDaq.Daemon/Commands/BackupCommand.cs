using System.CommandLine;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq backup --out FOLDER</c>: copies a data folder whole and reads the copy back.</summary>
internal static class BackupCommand
{
    private static readonly Option<string> Out = new("--out") { Description = TerminalText.BackupOut, HelpName = "FOLDER", Required = true };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("backup", TerminalText.BackupCommand) { Out, Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        string folder = Path.GetFullPath(parsed.GetRequiredValue(Out));
        if (File.Exists(folder)) throw new InputException(TerminalText.OptionOutIsFile(folder));
        using (RigArchive archive = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config)))
        {
            try
            {
                archive.Backup(folder);
            }
            catch (ArgumentException e)
            {
                throw new InputException(TerminalText.BackupRefused(folder, e.Message));
            }
        }

        // A backup that was never read is a hope.
        using var copy = new RigArchive(folder, TimeProvider.System, NullLogger.Instance);
        IReadOnlyList<string> damaged = copy.Verify();
        int runs = copy.Latest(int.MaxValue).Count;
        foreach (string finding in damaged) CommandRunner.Say(finding);
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { folder, runs, damaged });
        else Console.WriteLine(TerminalText.BackupDone(folder, runs, damaged.Count));
        return damaged.Count == 0 ? ExitStatus.Done : ExitStatus.CouldNotBeDone;
    }
}
