using System.Globalization;
using RigDaq.App.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Pictures;
using RigDaq.Rig.Control;
using RigDaq.Web.Requests;
using RigDaq.Web.Views;

namespace RigDaq.Web.Services;

/// <summary>Answers where an uncertainty on this bench comes from, by the same reckoning as <c>rigdaq uncertainty</c>.</summary>
internal sealed class UncertaintyService(RunShelf shelf, IDashboardData data, ILiveRig rig)
{
    // A strength that nobody has judged the piece of is told by two figures only.
    private const int TypicalDigits = 2;

    /// <summary>The answer; null with the reason where there is none.</summary>
    internal (OriginsView? View, string Problem) Answer(UncertaintyRequest ask)
    {
        if (Reckon(ask) is not { } reckoned) return (null, PageText.Of("answers.noUncertainty"));
        (Setting at, UncertaintyOrigins origins) = reckoned;
        return (new OriginsView(
            at.Calibration.Id, at.Calibration.AcceptedAt, at.Specimen, at.ForceNewtons, at.Width, at.Thickness, at.Step, at.Bench.CaliperErrorMillimetres, at.Bench.BendingPercent,
            origins.OfStrength, origins.ExpandedPercent,
            [.. origins.Origins.Select(origin => new OriginItem(origin.Name, origin.Stage.ToString(), origin.StandardPercent, origin.SharePercent, origin.IsAssumed))],
            [.. origins.Gains.Select(gain => gain with { Advice = UnitWords.In(gain.Advice, data.Units) })], UnitWords.In(origins.Notes, data.Units)), "");
    }

    /// <summary>The shares as a picture; null where there are none.</summary>
    internal string? Svg(UncertaintyRequest ask, bool dark, bool narrow = false) => Reckon(ask) is var (_, origins)
        ? OriginsPicture.Of(origins).ToSvg((narrow ? PictureStyle.Narrow : PictureStyle.Page) with { Dark = dark }) : null;

    private (Setting At, UncertaintyOrigins Origins)? Reckon(UncertaintyRequest ask)
    {
        if (SettingOf(ask) is not { Calibration.Uncertainty: { } model } at) return null;
        SectionMeasurement? section = at is { Width: { } width, Thickness: { } thickness }
            ? new SectionMeasurement { WidthsMillimetres = [width], ThicknessesMillimetres = [thickness], ResolutionMillimetres = at.Step } : null;
        return UncertaintyOrigins.Of(model, at.ForceNewtons, section, at.Bench) is { } origins ? (at, origins) : null;
    }

    private Setting? SettingOf(UncertaintyRequest ask)
    {
        (Run? run, Study? study, double? typical) = Example(ask.Run);
        CalibrationRecord? calibration = (run is null ? null : shelf.Calibrations.Find(run.Head.CalibrationId)) ?? rig.Snapshot.Calibration;
        if (calibration is null) return null;
        SectionMeasurement? measured = study?.Specimens.FirstOrDefault(specimen => specimen.Id == run?.Head.SpecimenId)?.Section;
        bool linear = measured is { WidthsMillimetres.Count: > 0, ThicknessesMillimetres.Count: > 0 };
        double force = ask.ForceNewtons ?? typical ?? calibration.GreatestReferenceNewtons;
        return !(force > 0) ? null : new Setting(
            calibration, ask.Run.Length > 0 ? run?.Head.SpecimenId ?? "" : "", force,
            ask.WidthMillimetres ?? (linear && !ask.Asked ? Mean(measured!.WidthsMillimetres) : null),
            ask.ThicknessMillimetres ?? (linear && !ask.Asked ? Mean(measured!.ThicknessesMillimetres) : null),
            ask.StepMillimetres ?? measured?.ResolutionMillimetres ?? new SectionMeasurement().ResolutionMillimetres,
            new BenchInputs
            {
                CaliperErrorMillimetres = ask.CaliperErrorMillimetres ?? (ask.Asked ? null : measured?.CaliperErrorMillimetres ?? run?.Head.Bench?.CaliperErrorMillimetres ?? data.Bench.CaliperErrorMillimetres),
                BendingPercent = ask.BendingPercent ?? (ask.Asked ? null : run?.Head.Bench?.BendingPercent ?? data.Bench.BendingPercent),
            });
    }

    /// <summary>The run that was asked about; else the middle one of the study that is worked on.</summary>
    private (Run? Run, Study? Study, double? ForceNewtons) Example(string runId)
    {
        if (runId.Length is > 0 and <= Archive.RigArchive.LongestId && shelf.Runs.Find(runId) is { } asked)
            return (asked, shelf.Studies.Find(asked.Head.StudyId), asked.Reading?.PeakForceNewtons);
        if (data.Study()?.Id is not { } id || shelf.Studies.Find(id) is not { } study) return (null, null, null);
        Run[] runs = [.. shelf.Runs.OfStudy(id).Where(run => run.Head.Recording is null && run.Reading?.PeakForceNewtons > 0 && run.Strength is not null)
            .OrderBy(run => run.Reading!.PeakForceNewtons)];
        if (runs.Length == 0) return (null, study, null);
        Run middle = runs[runs.Length / 2];
        return (middle, study, Rounded(middle.Reading!.PeakForceNewtons!.Value));
    }

    private static double Rounded(double force) => double.Parse(NumberText.Significant(force, TypicalDigits), CultureInfo.InvariantCulture);

    private static double Mean(IReadOnlyList<double> readings) => Math.Round(readings.Average(), 4);

    private sealed record Setting(
        CalibrationRecord Calibration, string Specimen, double ForceNewtons, double? Width, double? Thickness, double Step, BenchInputs Bench);
}
