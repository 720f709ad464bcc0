using RigDaq.App.Overview;
using RigDaq.App.Runs;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Reports.Pictures;

namespace RigDaq.Web.Views;

/// <summary>What the page of one run shows.</summary>
internal sealed class RunPages(RigArchive archive, RunService runs, IDashboardData data)
{
    /// <summary>The runs of a study; of the one that is worked on where none is named.</summary>
    internal RunsView List(string? studyId)
    {
        Study? study = (string.IsNullOrEmpty(studyId) ? data.Study()?.Id : studyId) is { } id ? archive.Studies.Find(id) : null;
        return study is null ? new RunsView("", "", []) : RunsView.From(study, archive.Runs.OfStudy(study.Id));
    }

    /// <summary>A run's page; null where there is no such run.</summary>
    internal RunPageView? Page(string runId, bool mayChange) => runs.Find(runId) is { } run
        ? RunPageView.From(run, archive.Runs.Revisions(runId), archive.Studies.Find(run.Head.StudyId),
            archive.Calibrations.Find(run.Head.CalibrationId), mayChange, data.Units)
        : null;

    /// <summary>The trace with what was read from it, as SVG; null where it cannot be drawn.</summary>
    internal string? TraceSvg(string runId, bool dark)
    {
        if (runs.Find(runId) is not { } run || archive.Runs.FindPull(runId) is not { Trace.Samples.Count: > 0 } pull) return null;
        if (archive.Calibrations.Find(run.Head.CalibrationId) is not { } calibration) return null;
        AnalysedTrace trace = TraceAnalysis.Analyse(PullAnalysis.Trace(pull, calibration.Curve), pull.Head.Settings.Detection,
            new KnownZero(0, Math.Abs(calibration.Curve.NewtonsPerCount(0)) * pull.Head.NoiseCounts));
        // The marks are the stored figures, so that picture and page say the same.
        if (run.Reading is { } reading) trace = trace with { Reading = reading };
        return MarkedTracePicture.Of(run.Head.SpecimenId, trace, data.Units).ToSvg(PictureStyle.Page with { Dark = dark });
    }

    /// <summary>What was measured, sample by sample; null where there is no such run, or its capture is gone.</summary>
    internal SamplesView? Samples(string runId) =>
        runs.Find(runId) is { } run && archive.Runs.FindPull(runId) is { Trace.Samples.Count: > 0 } pull
            && archive.Calibrations.Find(run.Head.CalibrationId) is { } calibration
            ? SamplesView.From(runId, calibration.Id, PullAnalysis.Trace(pull, calibration.Curve)) : null;

    /// <summary>A channel besides the force as SVG: over time, or, for an extension, force over it; null where it cannot be
    /// drawn.</summary>
    internal string? ChannelSvg(string runId, int channel, bool overExtension, bool dark)
    {
        if (runs.Find(runId) is not { Head.Channels: not null } run
            || archive.Runs.FindPull(runId) is not { Trace.Samples.Count: > 0 } pull) return null;
        if (archive.Calibrations.Find(run.Head.CalibrationId) is not { } calibration) return null;
        if (ChannelCurve.Of(pull).FirstOrDefault(curve => curve.Head.Index == channel) is not { } curve) return null;
        AnalysedTrace trace = PullAnalysis.Analyse(pull, calibration.Curve);
        if (run.Reading is { } reading) trace = trace with { Reading = reading };
        Picture picture = overExtension && curve.Head.Kind == ChannelHead.Extension ? ChannelPicture.OverExtension(run.Head.SpecimenId,
            trace, PullAnalysis.Extensions(pull, trace, curve), run.Strength?.AreaSquareMillimetres, data.Units)
            : ChannelPicture.OverTime(run.Head.SpecimenId, curve, trace, data.Units);
        return picture.ToSvg(PictureStyle.Page with { Dark = dark });
    }
}
