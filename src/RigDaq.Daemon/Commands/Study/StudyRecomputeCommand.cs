using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Core;
using RigDaq.Core.Calibration;
using RigDaq.Core.Compliance;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Text;
using RigDaq.Publishing.Messages;

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
        return new Command("recompute", TerminalText.StudyRecomputeCommand)
            { id, calibration, compliance, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            string study = parsed.GetRequiredValue(id);
            string? under = parsed.GetValue(calibration), with = parsed.GetValue(compliance);
            if (under is null && with is null) throw new InputException(TerminalText.StudyRecomputeUnderWhat);
            int revised = Recompute(store, study, under, with, TimeProvider.System.GetUtcNow(), CommandRunner.Say);
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study, calibration = under, compliance = with, revised });
            else CommandRunner.Say(TerminalText.StudyRecomputed(revised, under, with));
            return ExitStatus.Done;
        });
    }

    internal static int Recompute(StudyStore store, string studyId, string? calibrationId, string? complianceId, DateTimeOffset now,
        Action<string>? say = null)
    {
        var study = store.Require(studyId);
        CalibrationRecord? calibration = calibrationId is null ? null
            : store.Archive.Calibrations.Find(calibrationId)
                ?? throw new InputException(TerminalText.StudyRecomputeNoCalibration(calibrationId));
        ComplianceRecord? compliance = complianceId is null or None ? null
            : store.Archive.Compliances.Find(complianceId)
                ?? throw new InputException(TerminalText.StudyRecomputeNoCompliance(complianceId));
        Run[] all = [.. store.Archive.Runs.OfStudy(studyId)];
        Require("--calibration", calibrationId, calibration?.DeviceId, all.Where(run => run.Head.CalibrationId != calibration?.Id));
        var with = new Dictionary<string, ComplianceRecord?>();
        Run[] runs = [.. all.Where(run =>
            (calibration is not null && run.Head.CalibrationId != calibration.Id) || IsOther(run, With(run)))];
        // All or none are of its device: a mixture would compare two cells, or two frames.
        Require("--compliance", complianceId, compliance?.DeviceId, runs);
        var revisions = new List<(Run, OutboxMessage)>();
        foreach (Run run in runs)
        {
            // Strengths that were imported have no trace to read.
            if (store.Archive.Runs.FindPull(run.Head.RunId) is not { } pull) continue;
            CalibrationRecord? under = calibration ?? store.Archive.Calibrations.Find(run.Head.CalibrationId);
            if (under is null) continue;
            Run revised = Recalculation.Under(run, pull, study, under, now, With(run)?.ToCompliance());
            revisions.Add((revised, RunMessage.From(revised, study).ToOutbox()));
        }

        // All or none: a study of which some runs were read under another calibration compares two of them.
        store.Archive.Studies.Change(studyId, kept => kept, "", _ => revisions);
        return revisions.Count;

        // One that is not kept here any more is no reason to read a run anew.
        bool IsOther(Run run, ComplianceRecord? with) => with?.Id != run.Reading?.ComplianceId
            && (with is not null || complianceId is not null);

        // Without a compliance named each run keeps its own, fitted again under the calibration: its forces change, too.
        ComplianceRecord? With(Run run)
        {
            if (complianceId is not null) return compliance;
            if (run.Reading?.ComplianceId is not { } own || calibration is null) return store.Archive.Compliances.ReadWith(run);
            if (with.TryGetValue(own, out ComplianceRecord? known)) return known;
            ComplianceRecord? record = store.Archive.Compliances.Find(own);
            if (record is not null) record = UnderCalibration(store.Archive, record, calibration, now, say);
            return with[own] = record;
        }
    }

    private static ComplianceRecord UnderCalibration(Archive.RigArchive archive, ComplianceRecord record, CalibrationRecord calibration,
        DateTimeOffset now, Action<string>? say)
    {
        try
        {
            return archive.Compliances.Recomputed(record, calibration, now);
        }
        catch (RefusalException refusal)
        {
            say?.Invoke(TerminalText.ComplianceLeft(record.Id, refusal.Message));
            return record;
        }
    }

    private static void Require(string option, string? id, string? deviceId, IEnumerable<Run> runs)
    {
        if (deviceId is not null && runs.FirstOrDefault(run => run.Head.Device.Id != deviceId) is { } other)
            throw new InputException(TerminalText.StudyRecomputeOtherDevice(option, id, deviceId, other.Head.SpecimenId,
                other.Head.Device.Id));
    }
}
