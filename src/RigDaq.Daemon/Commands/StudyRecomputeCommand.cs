using System.CommandLine;
using RigDaq.Core.Calibration;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Recording;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>
/// <c>rigdaq study recompute</c>: reads a study's runs under another calibration or with another machine compliance, without a new
/// break; each gets a further revision.
/// </summary>
internal static class StudyRecomputeCommand
{
    /// <summary>The word for leaving the machine's give in.</summary>
    private const string None = "none";

    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var calibration = new Option<string?>("--calibration") { Description = TerminalText.StudyRecomputeCalibration, HelpName = "ID" };
        var compliance = new Option<string?>("--compliance") { Description = TerminalText.StudyRecomputeCompliance, HelpName = "ID" };
        Option<string?> data = StudyStore.DataOption();
        return new Command("recompute", TerminalText.StudyRecomputeCommand) { id, calibration, compliance, data }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed.GetValue(data));
            string study = parsed.GetRequiredValue(id);
            string? under = parsed.GetValue(calibration), with = parsed.GetValue(compliance);
            if (under is null && with is null) throw new InputException(TerminalText.StudyRecomputeUnderWhat);
            int revised = Recompute(store, study, under, with, TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study, calibration = under, compliance = with, revised });
            else CommandRunner.Say(TerminalText.StudyRecomputed(revised, under, with));
            return ExitStatus.Done;
        });
    }

    internal static int Recompute(StudyStore store, string studyId, string? calibrationId, string? complianceId, DateTimeOffset now)
    {
        var study = store.Studies.Require(studyId);
        CalibrationRecord? calibration = calibrationId is null ? null
            : store.Archive.Calibrations.Find(calibrationId) ?? throw new InputException(TerminalText.StudyRecomputeNoCalibration(calibrationId));
        ComplianceRecord? compliance = complianceId is null or None ? null
            : store.Archive.FindCompliance(complianceId) ?? throw new InputException(TerminalText.StudyRecomputeNoCompliance(complianceId));
        bool sameCompliance = complianceId is null;
        Run[] runs = [.. store.Archive.OfStudy(studyId).Where(run =>
            (calibration is not null && run.Head.CalibrationId != calibration.Id) || (!sameCompliance && run.Reading?.ComplianceId != compliance?.Id))];
        // All or none are of its device: a mixture would compare two cells, or two frames.
        Require("--calibration", calibrationId, calibration?.DeviceId, runs);
        Require("--compliance", complianceId, compliance?.DeviceId, runs);
        int revised = 0;
        foreach (Run run in runs)
        {
            // Strengths that were imported have no trace to read.
            if (store.Archive.FindPull(run.Head.RunId) is not { } pull) continue;
            CalibrationRecord? under = calibration ?? store.Archive.Calibrations.Find(run.Head.CalibrationId);
            if (under is null) continue;
            MachineCompliance? with = (sameCompliance ? store.Archive.Of(run) : compliance)?.ToCompliance();
            store.Archive.ReviseAndTell(Recalculation.Under(run, pull, study, under, now, with));
            revised++;
        }

        return revised;
    }

    private static void Require(string option, string? id, string? deviceId, Run[] runs)
    {
        if (deviceId is not null && runs.FirstOrDefault(run => run.Head.Device.Id != deviceId) is { } other)
            throw new InputException(TerminalText.StudyRecomputeOtherDevice(option, id, deviceId, other.Head.SpecimenId, other.Head.Device.Id));
    }
}
