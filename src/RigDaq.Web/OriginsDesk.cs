using System.Globalization;
using RigDaq.App.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Pictures;

namespace RigDaq.Web;

/// <summary>What a page asks of an uncertainty; what is null is taken from the run, the study or the configuration, unless the form itself was sent.</summary>
internal sealed record OriginsAsk
{
    /// <summary>A run whose calibration, force and section are taken; empty for the study that is worked on.</summary>
    public string Run { get; init; } = "";

    /// <summary>Whether the form was sent: then an empty field means that nothing is known.</summary>
    public bool Asked { get; init; }

    public double? ForceNewtons { get; init; }

    public double? WidthMillimetres { get; init; }

    public double? ThicknessMillimetres { get; init; }

    public double? StepMillimetres { get; init; }

    public double? CaliperErrorMillimetres { get; init; }

    public double? BendingPercent { get; init; }

    /// <summary>From a query string; null where a figure in it is none, or out of its range.</summary>
    internal static OriginsAsk? From(IQueryCollection query)
    {
        bool good = true;
        var ask = new OriginsAsk
        {
            Run = query["run"].ToString(),
            Asked = query["asked"] == "1",
            ForceNewtons = Number("force", ForceNewtonsMax, mayBeZero: false),
            WidthMillimetres = Number("width", LengthMillimetresMax, mayBeZero: false),
            ThicknessMillimetres = Number("thickness", LengthMillimetresMax, mayBeZero: false),
            StepMillimetres = Number("step", SectionMeasurement.CaliperErrorMillimetresMax, mayBeZero: true),
            CaliperErrorMillimetres = Number("error", SectionMeasurement.CaliperErrorMillimetresMax, mayBeZero: true),
            BendingPercent = Number("bending", BenchInputs.BendingPercentMax, mayBeZero: true),
        };
        return good ? ask : null;

        double? Number(string name, double most, bool mayBeZero)
        {
            string text = query[name].ToString();
            if (text.Length == 0) return null;
            bool holds = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value <= most && (mayBeZero ? value >= 0 : value > 0);
            good &= holds;
            return holds ? value : null;
        }
    }

    internal const double ForceNewtonsMax = 1_000_000;
    internal const double LengthMillimetresMax = 1_000;
}

/// <summary>An origin of an uncertainty.</summary>
internal sealed record OriginItem(string Name, string Stage, double StandardPercent, double SharePercent, bool Assumed);

/// <summary>Where an uncertainty comes from, with the figures that it was reckoned with.</summary>
internal sealed record OriginsView(
    string Calibration, DateTimeOffset? AcceptedAt, string Specimen, double ForceNewtons, double? WidthMillimetres, double? ThicknessMillimetres, double StepMillimetres,
    double? CaliperErrorMillimetres, double? BendingPercent, bool OfStrength, double ExpandedPercent, IReadOnlyList<OriginItem> Lines, IReadOnlyList<UncertaintyGain> Gains,
    IReadOnlyList<string> Notes);

/// <summary>Answers where an uncertainty on this bench comes from, by the same reckoning as <c>rigdaq uncertainty</c>.</summary>
internal sealed class OriginsDesk(RunShelf shelf, IDashboardData data, IDashboardRig rig)
{
    // A strength that nobody has judged the piece of is told by two figures only.
    private const int TypicalDigits = 2;

    /// <summary>The answer; null with the reason where there is none.</summary>
    internal (OriginsView? View, string Problem) Answer(OriginsAsk ask)
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
    internal string? Svg(OriginsAsk ask, bool dark, bool narrow = false) => Reckon(ask) is var (_, origins)
        ? OriginsPicture.Of(origins).ToSvg((narrow ? PictureStyle.Narrow : PictureStyle.Page) with { Dark = dark }) : null;

    private (Setting At, UncertaintyOrigins Origins)? Reckon(OriginsAsk ask)
    {
        if (SettingOf(ask) is not { Calibration.Uncertainty: { } model } at) return null;
        SectionMeasurement? section = at is { Width: { } width, Thickness: { } thickness }
            ? new SectionMeasurement { WidthsMillimetres = [width], ThicknessesMillimetres = [thickness], ResolutionMillimetres = at.Step } : null;
        return UncertaintyOrigins.Of(model, at.ForceNewtons, section, at.Bench) is { } origins ? (at, origins) : null;
    }

    private Setting? SettingOf(OriginsAsk ask)
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
