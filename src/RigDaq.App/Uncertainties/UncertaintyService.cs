using System.Globalization;
using RigDaq.App.Overview;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Pictures;
using RigDaq.Rig.Control;

namespace RigDaq.App.Uncertainties;

/// <summary>Answers where an uncertainty on this bench comes from, by the same reckoning as <c>rigdaq uncertainty</c>.</summary>
internal sealed class UncertaintyService(RigArchive archive, IDashboardData data, ILiveRig rig)
{
    // A strength that nobody has judged the piece of is told by two figures only.
    private const int TypicalDigits = 2;

    /// <summary>The shares as a picture; null where there are none.</summary>
    internal string? Svg(UncertaintyRequest asked, bool dark, bool narrow = false) => Reckon(asked) is var (_, origins)
        ? OriginsPicture.Of(origins).ToSvg((narrow ? PictureStyle.Narrow : PictureStyle.Page) with { Dark = dark }) : null;

    /// <summary>Where it comes from, and with which figures; null where there is none.</summary>
    internal (UncertaintySetting At, UncertaintyOrigins Origins)? Reckon(UncertaintyRequest asked)
    {
        if (SettingOf(asked) is not { Calibration.Uncertainty: { } model } at) return null;
        SectionMeasurement? section = at is { Width: { } width, Thickness: { } thickness }
            ? new SectionMeasurement { WidthsMillimetres = [width], ThicknessesMillimetres = [thickness], ResolutionMillimetres = at.Step }
                : null;
        return UncertaintyOrigins.Of(model, at.ForceNewtons, section, at.Bench) is { } origins ? (at, origins) : null;
    }

    private UncertaintySetting? SettingOf(UncertaintyRequest asked)
    {
        (Run? run, Study? study, double? typical) = Example(asked.Run);
        CalibrationRecord? calibration = (run is null ? null : archive.Calibrations.Find(run.Head.CalibrationId))
            ?? rig.Snapshot.Calibration;
        if (calibration is null) return null;
        SectionMeasurement? measured = study?.Specimens.FirstOrDefault(specimen => specimen.Id == run?.Head.SpecimenId)?.Section;
        bool linear = measured is { WidthsMillimetres.Count: > 0, ThicknessesMillimetres.Count: > 0 };
        double force = asked.ForceNewtons ?? typical ?? calibration.GreatestReferenceNewtons;
        return !(force > 0) ? null : new UncertaintySetting(
            calibration, asked.Run.Length > 0 ? run?.Head.SpecimenId ?? "" : "", force,
            asked.WidthMillimetres ?? (linear && !asked.Asked ? Mean(measured!.WidthsMillimetres) : null),
            asked.ThicknessMillimetres ?? (linear && !asked.Asked ? Mean(measured!.ThicknessesMillimetres) : null),
            asked.StepMillimetres ?? measured?.ResolutionMillimetres ?? new SectionMeasurement().ResolutionMillimetres,
            new BenchInputs
            {
                CaliperErrorMillimetres = asked.CaliperErrorMillimetres ?? (asked.Asked ? null
                    : measured?.CaliperErrorMillimetres ?? run?.Head.Bench?.CaliperErrorMillimetres ?? data.Bench.CaliperErrorMillimetres),
                BendingPercent = asked.BendingPercent
                    ?? (asked.Asked ? null : run?.Head.Bench?.BendingPercent ?? data.Bench.BendingPercent),
            });
    }

    /// <summary>The run that was asked about; else the middle one of the study that is worked on.</summary>
    private (Run? Run, Study? Study, double? ForceNewtons) Example(string runId)
    {
        if (runId.Length is > 0 and <= RigArchive.LongestId && archive.Runs.Find(runId) is { } asked)
            return (asked, archive.Studies.Find(asked.Head.StudyId), asked.Reading?.PeakForceNewtons);
        if (data.Study()?.Id is not { } id || archive.Studies.Find(id) is not { } study) return (null, null, null);
        Run[] runs = [.. archive.Runs.OfStudy(id).Where(run => run.Head.Recording is null && run.Reading?.PeakForceNewtons > 0
            && run.Strength is not null).OrderBy(run => run.Reading!.PeakForceNewtons)];
        if (runs.Length == 0) return (null, study, null);
        Run middle = runs[runs.Length / 2];
        return (middle, study, Rounded(middle.Reading!.PeakForceNewtons!.Value));
    }

    private static double Rounded(double force) => double.Parse(NumberText.Significant(force, TypicalDigits), CultureInfo.InvariantCulture);

    private static double Mean(IReadOnlyList<double> readings) => Math.Round(readings.Average(), 4);
}

/// <summary>The figures that an uncertainty is reckoned with.</summary>
internal sealed record UncertaintySetting(CalibrationRecord Calibration, string Specimen, double ForceNewtons, double? Width,
    double? Thickness, double Step, BenchInputs Bench);
