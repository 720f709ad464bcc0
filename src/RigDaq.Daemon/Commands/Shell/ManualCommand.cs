using System.CommandLine;
using System.Reflection;
using RigDaq.Daemon.Shell;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq manual</c>: the manual page, for <c>man -l -</c> and for packages.</summary>
internal static class ManualCommand
{
    public static Command Create() => new Command("manual", TerminalText.ManualCommand).WithBody(parsed =>
    {
        string version = typeof(ManualCommand).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion
            .Split('+')[0];
        string page = ManualPage.Of(ShellCommand.Of(parsed.RootCommandResult.Command), version);
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { page });
        else Console.Write(page);
        return ExitStatus.Done;
    });
}
