using System.CommandLine;
using RigDaq.Daemon.Checking;
using RigDaq.Daemon.Configuration;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq check</c>: is this machine ready? Each fault comes with its remedy.</summary>
internal static class CheckCommand
{
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("check", "Is this machine ready: port, permissions, store, broker, clock, calibration; each with its remedy.") { Config }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        DaemonOptions options = OptionsReader.Read(parsed.GetValue(Config), Environment.GetEnvironmentVariables());
        IReadOnlyList<Finding> findings = await MachineCheck.RunAsync(options, TimeProvider.System, cancellation).ConfigureAwait(false);
        bool ready = findings.All(finding => finding.InOrder);
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { ready, findings });
        else foreach (Finding finding in findings) Console.WriteLine($"{(finding.InOrder ? "in order    " : "not in order")}  {finding.What}: {finding.Text}");
        return ready ? ExitStatus.Done : ExitStatus.CouldNotBeDone;
    }
}
