using RigDaq.App;
using RigDaq.App.Runs;
using RigDaq.App.Text;
using RigDaq.Archive.Photos;
using RigDaq.Core;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Publishing.Messages;
using RigDaq.Reports.Pictures;
using RigDaq.Web.Views;

namespace RigDaq.Web.Services;

/// <summary>What the pages of runs read from and write to.</summary>
/// <param name="Runs">The runs.</param>
/// <param name="Studies">Their studies.</param>
/// <param name="Calibrations">The calibrations that they were pulled under.</param>
/// <param name="DataFolder">Where photos are kept.</param>
public sealed record RunShelf(IRunArchive Runs, IStudyArchive Studies, ICalibrationArchive Calibrations, string DataFolder)
{
    /// <summary>Held by whoever corrects a run by what is kept of it; one for all corrections of studies and runs.</summary>
    public Lock Correcting { get; init; } = new();
}

/// <summary>Shows runs and corrects them; every correction is a further revision with its message, one at a time.</summary>
internal sealed class RunService(RunShelf shelf, IDashboardData data, TimeProvider time)
{
    /// <summary>The runs of a study; of the one that is worked on where none is named.</summary>
    internal RunsView List(string? studyId)
    {
        Study? study = (string.IsNullOrEmpty(studyId) ? data.Study()?.Id : studyId) is { } id ? shelf.Studies.Find(id) : null;
        return study is null ? new RunsView("", "", []) : RunsView.From(study, shelf.Runs.OfStudy(study.Id));
    }

    /// <summary>A run's page; null where there is no such run.</summary>
    internal RunPageView? Page(string runId, bool mayChange) => Find(runId) is { } run
        ? RunPageView.From(run, shelf.Runs.Revisions(runId), shelf.Studies.Find(run.Head.StudyId), shelf.Calibrations.Find(run.Head.CalibrationId), mayChange, data.Units)
        : null;

    /// <summary>The trace with what was read from it, as SVG; null where it cannot be drawn.</summary>
    internal string? TraceSvg(string runId, bool dark)
    {
        if (Find(runId) is not { } run || shelf.Runs.FindPull(runId) is not { Trace.Samples.Count: > 0 } pull) return null;
        if (shelf.Calibrations.Find(run.Head.CalibrationId) is not { } calibration) return null;
        AnalysedTrace trace = TraceAnalysis.Analyse(PullAnalysis.Trace(pull, calibration.Curve), pull.Head.Settings.Detection,
            new KnownZero(0, Math.Abs(calibration.Curve.NewtonsPerCount(0)) * pull.Head.NoiseCounts));
        // The marks are the stored figures, so that picture and page say the same.
        if (run.Reading is { } reading) trace = trace with { Reading = reading };
        return MarkedTracePicture.Of(run.Head.SpecimenId, trace, data.Units).ToSvg(PictureStyle.Page with { Dark = dark });
    }

    /// <summary>
    /// A channel besides the force as SVG: over time, or, for an extension, force over it; null where it cannot be drawn.
    /// </summary>
    internal string? ChannelSvg(string runId, int channel, bool overExtension, bool dark)
    {
        if (Find(runId) is not { Head.Channels: not null } run || shelf.Runs.FindPull(runId) is not { Trace.Samples.Count: > 0 } pull) return null;
        if (shelf.Calibrations.Find(run.Head.CalibrationId) is not { } calibration) return null;
        if (ChannelCurve.Of(pull).FirstOrDefault(curve => curve.Head.Index == channel) is not { } curve) return null;
        AnalysedTrace trace = PullAnalysis.Analyse(pull, calibration.Curve);
        if (run.Reading is { } reading) trace = trace with { Reading = reading };
        Picture picture = overExtension && curve.Head.Kind == ChannelHead.Extension
            ? ChannelPicture.OverExtension(run.Head.SpecimenId, trace, PullAnalysis.Extensions(pull, trace, curve), run.Strength?.AreaSquareMillimetres, data.Units)
            : ChannelPicture.OverTime(run.Head.SpecimenId, curve, trace, data.Units);
        return picture.ToSvg(PictureStyle.Page with { Dark = dark });
    }

    /// <summary>The photo that a revision names; null where there is none.</summary>
    internal (string Path, string MediaType)? Photo(string runId, int revision) =>
        Find(runId) is not null && shelf.Runs.Revisions(runId).FirstOrDefault(r => r.Revision == revision)?.Look?.PhotoName is { } name
            ? StudyPhotos.Find(shelf.DataFolder, name) : null;

    internal Result Void(RunRequest ask) => Revise(ask, (run, now) => VoidWords.Find(ask.Kind) is { } kind
        ? RunCorrections.Void(run, kind, ask.Text, now)
        : throw Refusal.Of("answers.chooseReason"));

    internal Result Restore(RunRequest ask) => Revise(ask, (run, now) => RunCorrections.Restore(run, ask.Text, now));

    internal Result Look(RunRequest ask) => Revise(ask, (run, now) => RunCorrections.Look(run, new FractureLook
    {
        Location = FractureWords.Location(ask.Location),
        Layer = ask.Layer.Trim(),
        Appearance = ask.Appearance.Trim(),
        At = now,
    }.With(null, run.Look), now));

    /// <summary>Keeps a photo of the broken piece beside what the eye saw of it.</summary>
    internal Result Photo(RunRequest ask, byte[] photo) => Revise(ask, (run, now) =>
    {
        KeptPhoto kept = StudyPhotos.Keep(shelf.DataFolder, run.Head.RunId, run.Revision + 1, photo, PageText.Of("answers.thePhoto"));
        return RunCorrections.Look(run, ((run.Look ?? new FractureLook { At = now }) with { At = now }).With(kept, run.Look), now);
    });

    internal Result Back(RunRequest ask) => Revise(ask, (run, now) =>
    {
        Run earlier = shelf.Runs.Revisions(run.Head.RunId).FirstOrDefault(r => r.Revision == ask.To)
            ?? throw Refusal.Of("answers.noSuchRevision");
        return RunCorrections.Reverse(run, earlier, ask.Text, now);
    });

    private Run? Find(string runId) => runId.Length is > 0 and <= Archive.RigArchive.LongestId ? shelf.Runs.Find(runId) : null;

    private Result Revise(RunRequest ask, Func<Run, DateTimeOffset, Run> correct)
    {
        lock (shelf.Correcting)
        {
            if (Find(ask.Run) is not { } run) return Result.Refused("answers.noSuchRun");
            if (run.Revision != ask.Revision)
                return Result.Refused("answers.correctedMeanwhile");
            try
            {
                Run revised = correct(run, time.GetUtcNow());
                shelf.Runs.Revise(revised, [RunMessage.From(revised, shelf.Studies.Find(revised.Head.StudyId)).ToOutbox()]);
                return Result.Ok(PageText.Of("answers.keptAsRevision", ("n", revised.Revision), ("reason", revised.RevisionReason)));
            }
            catch (Archive.ArchiveConflictException)
            {
                return Result.Refused("answers.correctedMeanwhile");
            }
            catch (RefusalException fault)
            {
                return Result.Because(fault.Message);
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                return Result.Refused("answers.notKept", ("why", fault.Message));
            }
        }
    }
}
