using System.CommandLine;
using RigDaq.Daemon.Shell;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq completion SHELL</c>: what a shell has to know to complete this program's commands.</summary>
internal static class CompletionCommand
{
    private static readonly Dictionary<string, Func<ShellCommand, string>> Shells = new(StringComparer.Ordinal)
    {
        ["bash"] = BashCompletion.Of,
        ["zsh"] = ZshCompletion.Of,
        ["fish"] = FishCompletion.Of,
    };

    public static Command Create()
    {
        var shell = new Argument<string>("SHELL") { Description = TerminalText.CompletionShell };
        shell.AcceptOnlyFromAmong([.. Shells.Keys]);
        return new Command("completion", TerminalText.CompletionCommand) { shell }.WithBody(parsed =>
        {
            string script = Shells[parsed.GetRequiredValue(shell)](ShellCommand.Of(parsed.RootCommandResult.Command));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { script });
            else Console.Write(script);
            return ExitStatus.Done;
        });
    }
}
