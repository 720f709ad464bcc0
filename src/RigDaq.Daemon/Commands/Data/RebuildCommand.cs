using System.CommandLine;
using RigDaq.Archive;
using RigDaq.Archive.Recovery;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq rebuild</c>: makes a damaged database anew from the captures and the journal.</summary>
internal static class RebuildCommand
{
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() =>
        new Command("rebuild", TerminalText.RebuildCommand) { Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        string folder = DataOption.Folder(parsed.GetValue(Data), parsed.GetValue(Config));
        TimeProvider time = TimeProvider.System;
        RebuildReport report = RigArchive.Rebuild(folder, time, TerminalLogger.Instance, (pull, archive) => RunCalculation.Calculate(
            pull, archive.Studies.Find(pull.Head.StudyId), archive.Calibrations.Find(pull.Head.CalibrationId), pull.EndedAt,
            archive.Compliances.InForceAt(pull.Head.Device.Id, pull.Head.StartedAt, pull.Head.CalibrationId)?.ToCompliance()));
        foreach (string finding in report.Findings.Concat(report.PhotoFaults)) CommandRunner.Say(finding);
        CommandRunner.Say(TerminalText.RebuildSetAside(report.SetAside));
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(report);
        else CommandPlace.Output.WriteLine(TerminalText.RebuildDone(folder, report.Studies, report.Calibrations, report.Runs,
            report.Recomputed, report.DamagedLines));
        return ExitStatus.Done;
    }
}
