using System.CommandLine;
using RigDaq.App.Checking;
using RigDaq.App.Configuration;
using RigDaq.Archive;
using RigDaq.Archive.Recovery;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Conformance;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq check</c>: is this machine ready? Each fault comes with its remedy.</summary>
internal static class CheckCommand
{
    private static readonly Option<string?> Config = ConfigOption.Create();

    private static readonly Option<bool> Device = new("--device") { Description = TerminalText.CheckDevice };

    private static readonly Option<string?> Data = new("--data")
    { Description = TerminalText.CheckData, HelpName = "DIR", Arity = ArgumentArity.ZeroOrOne };

    public static Command Create() => new Command("check", TerminalText.CheckCommand) { Device, Data, Config }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        if (parsed.GetResult(Data) is not null)
            return CheckData(DataOption.Folder(parsed.GetValue(Data), parsed.GetValue(Config)), parsed.GetValue(CommandTree.Json));
        DaemonOptions options = OptionsReader.Read(parsed.GetValue(Config), Environment.GetEnvironmentVariables());
        UnitsOption.Apply(parsed, options.Units);
        if (parsed.GetValue(Device))
            return await CheckDeviceAsync(options, parsed.GetValue(CommandTree.Json), cancellation).ConfigureAwait(false);
        IReadOnlyList<Finding> findings = await MachineCheck.RunAsync(options, TimeProvider.System, cancellation).ConfigureAwait(false);
        bool ready = findings.All(finding => finding.InOrder);
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { ready, findings });
        else foreach (Finding finding in findings) Console.WriteLine(TerminalText.CheckFinding(finding.InOrder, finding.What,
            finding.Text.In(options.Units.Units)));
        return ready ? ExitStatus.Done : ExitStatus.CouldNotBeDone;
    }

    /// <summary>Holds what is in a data folder against itself; nothing is changed.</summary>
    private static int CheckData(string folder, bool json)
    {
        FolderReport report = RigArchive.Look(folder, TimeProvider.System);
        foreach (string finding in report.Findings.Concat(report.Notes)) CommandRunner.Say(finding);
        if (json) JsonAnswer.Write(new { folder, report.Studies, report.Calibrations, report.Runs, report.Findings, report.Notes });
        else Console.WriteLine(TerminalText.CheckDataDone(folder, report.Studies, report.Calibrations, report.Runs, report.Findings.Count));
        return report.Findings.Count == 0 ? ExitStatus.Done : ExitStatus.CouldNotBeDone;
    }

    private static async Task<int> CheckDeviceAsync(DaemonOptions options, bool json, CancellationToken cancellation)
    {
        IReadOnlyList<ConformanceFinding> findings = await DeviceCheck.RunAsync(options.Serial, TimeProvider.System, cancellation)
            .ConfigureAwait(false);
        bool conforms = findings.All(finding => finding.Outcome != ConformanceOutcome.Fails);
        if (json) JsonAnswer.Write(new
        { conforms, findings = findings.Select(f => new { f.Section, f.Check, Outcome = Word(f.Outcome), f.Detail }) });
        else foreach (ConformanceFinding f in findings) Console.WriteLine(TerminalText.CheckConformance(Word(f.Outcome), f.Section, f.Check,
            f.Detail));
        return conforms ? ExitStatus.Done : ExitStatus.CouldNotBeDone;
    }

    private static string Word(ConformanceOutcome outcome) => outcome switch
    {
        ConformanceOutcome.Holds => "holds",
        ConformanceOutcome.Fails => "fails",
        _ => "not checked",
    };
}
