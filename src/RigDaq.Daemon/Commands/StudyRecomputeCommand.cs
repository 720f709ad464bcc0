using System.CommandLine;
using RigDaq.Core.Calibration;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study recompute</c>: reads a study's runs under another calibration, without a new break; each gets a further revision.</summary>
internal static class StudyRecomputeCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = "The study's id." };
        var calibration = new Option<string>("--calibration") { Description = "The calibration's id.", Required = true, HelpName = "ID" };
        Option<string?> data = StudyStore.DataOption();
        return new Command("recompute", "Reads the runs under another calibration; the earlier revisions stay.") { id, calibration, data }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed.GetValue(data));
            string study = parsed.GetRequiredValue(id), wanted = parsed.GetRequiredValue(calibration);
            int revised = Recompute(store, study, wanted, TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study, calibration = wanted, revised });
            else CommandRunner.Say($"{revised} runs read under the calibration {wanted}.");
            return ExitStatus.Done;
        });
    }

    internal static int Recompute(StudyStore store, string studyId, string calibrationId, DateTimeOffset now)
    {
        var study = store.Studies.Require(studyId);
        CalibrationRecord calibration = store.Archive.Calibrations.Find(calibrationId) ?? throw new InputException($"--calibration: there is no calibration {calibrationId}.");
        Run[] runs = [.. store.Archive.OfStudy(studyId).Where(run => run.Head.CalibrationId != calibrationId)];
        // All or none are of its device: a mixture would compare two cells.
        if (runs.FirstOrDefault(run => run.Head.Device.Id != calibration.DeviceId) is { } other)
            throw new InputException($"--calibration: {calibrationId} is for the device {calibration.DeviceId}; the run of {other.Head.SpecimenId} was measured by {other.Head.Device.Id}.");
        int revised = 0;
        foreach (Run run in runs)
        {
            // Strengths that were imported have no trace to read.
            if (store.Archive.FindPull(run.Head.RunId) is not { } pull) continue;
            store.Archive.Revise(Recalculation.Under(run, pull, study, calibration, now), []);
            revised++;
        }

        return revised;
    }
}
