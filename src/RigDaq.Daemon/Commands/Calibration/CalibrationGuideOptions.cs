using System.CommandLine;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>The options of <c>rigdaq calibrate</c>, and what they make.</summary>
internal static class CalibrationGuideOptions
{
    public static readonly Option<string?> Config = ConfigOption.Create();
    public static readonly Option<string?> Weights = new("--weights") { Description = TerminalText.GuideWeights, HelpName = "SET" };
    public static readonly Option<string?> Readings = new("--readings") { Description = TerminalText.GuideReadings, HelpName = "FILE" };
    public static readonly Option<bool> Resume = new("--resume") { Description = TerminalText.GuideResume };
    public static readonly Option<bool> Quick = new("--quick") { Description = TerminalText.GuideQuick };
    public static readonly Option<int?> Degree = new("--degree") { Description = TerminalText.GuideDegree };
    public static readonly Option<int?> Steps = new("--steps") { Description = TerminalText.GuideSteps };
    public static readonly Option<int?> Series = new("--rising") { Description = TerminalText.GuideSeries };
    public static readonly Option<int?> Falling = new("--falling") { Description = TerminalText.GuideFalling };
    public static readonly Option<int?> Preloads = new("--preloads") { Description = TerminalText.GuidePreloads };
    public static readonly Option<double?> Dwell = new("--dwell-s") { Description = TerminalText.GuideDwell };
    public static readonly Option<double?> ZeroReturn = new("--zero-return-s") { Description = TerminalText.GuideZeroReturn };
    public static readonly Option<double?> WarmUp = new("--warm-up-s") { Description = TerminalText.GuideWarmUp };
    public static readonly Option<double?> DriftLimit = new("--drift-limit-counts-per-minute")
    { Description = TerminalText.GuideDriftLimit };
    public static readonly Option<double?> Lever = new("--lever-ratio") { Description = TerminalText.GuideLever };
    public static readonly Option<double?> LeverUncertainty = new("--lever-uncertainty")
    { Description = TerminalText.GuideLeverUncertainty };
    public static readonly Option<double?> FullScale = new("--full-scale-N") { Description = TerminalText.GuideFullScale };
    public static readonly Option<double?> NonLinearity = new("--non-linearity-percent") { Description = TerminalText.GuideNonLinearity };
    public static readonly Option<bool> BestLine = new("--best-line") { Description = TerminalText.GuideBestLine };
    public static readonly Option<double?> TemperatureEffect = new("--temperature-percent-per-K")
    { Description = TerminalText.GuideTemperatureEffect };
    public static readonly Option<double?> TemperatureSpread = new("--temperature-spread-K")
    { Description = TerminalText.GuideTemperatureSpread };
    public static readonly Option<double?> Temperature = new("--room-C") { Description = TerminalText.GuideTemperature };
    public static readonly Option<string?> Person = new("--person") { Description = TerminalText.GuidePerson };
    public static readonly Option<string?> Cell = new("--cell") { Description = TerminalText.GuideCell };
    public static readonly Option<string?> Amplifier = new("--amplifier") { Description = TerminalText.GuideAmplifier };

    public static readonly Option[] All =
    [
        Config, Weights, Readings, Resume, Quick, Degree, Steps, Series, Falling, Preloads, Dwell, ZeroReturn, WarmUp, DriftLimit, Lever,
            LeverUncertainty,
        FullScale, NonLinearity, BestLine, TemperatureEffect, TemperatureSpread, Temperature, Person, Cell, Amplifier,
    ];

    /// <summary>Under what readings were taken that are read from a file.</summary>
    public static CalibrationCircumstances Circumstances(ParseResult parsed, DaemonOptions options) => new()
    {
        Person = parsed.GetValue(Person) ?? "",
        Place = options.Name,
        Cell = parsed.GetValue(Cell) ?? "",
        AmplifierSetting = parsed.GetValue(Amplifier) ?? "",
        TemperatureCelsius = parsed.GetValue(Temperature),
    };

    /// <summary>Makes the plan out of weights and wishes, once the sets that are kept can be looked at.</summary>
    /// <exception cref="InputException">Something is missing or out of range.</exception>
    public static Func<RigDiary, (GuidePlan Plan, CalibrationCircumstances Circumstances)> Plan(ParseResult parsed, DaemonOptions options,
        string source)
    {
        string set = parsed.GetValue(Weights) ?? throw new InputException(TerminalText.GuideWeightsMissing);
        LocalGravity gravity = Gravity(options.Site, source);
        AirDensity air = AirDensity.AtHeight(options.Site.HeightMetres);
        return diary => Plan(parsed, options, CalibrationWeightsFile.Find(set, diary), gravity, air);
    }

    private static (GuidePlan Plan, CalibrationCircumstances Circumstances) Plan(ParseResult parsed, DaemonOptions options,
        WeightSet weights, LocalGravity gravity, AirDensity air)
    {
        bool quick = parsed.GetValue(Quick);
        var steps = StepPlanner.Suggest(weights.Weights, gravity, air, parsed.GetValue(Steps) ?? 5);
        if (parsed.GetValue(Lever) is { } ratio)
        {
            double uncertainty = parsed.GetValue(LeverUncertainty) ?? throw new InputException(TerminalText.GuideLeverUncertaintyMissing);
            steps = [.. steps.Select(step => ReferenceForces.ThroughLever(step, ratio, uncertainty, ReferenceForces.SoleLever))];
        }

        var usual = new GuidePlan { Steps = steps };
        var plan = GuidePlan.Checked(usual with
        {
            PreloadCycles = parsed.GetValue(Preloads) ?? (quick ? 1 : usual.PreloadCycles),
            RisingSeries = parsed.GetValue(Series) ?? (quick ? 1 : usual.RisingSeries),
            FallingSeries = parsed.GetValue(Falling) ?? (quick ? 0 : usual.FallingSeries),
            DwellSeconds = parsed.GetValue(Dwell) ?? (quick ? 0 : usual.DwellSeconds),
            ZeroReturnSeconds = parsed.GetValue(ZeroReturn) ?? (quick ? 5 : usual.ZeroReturnSeconds),
            WarmUpSeconds = parsed.GetValue(WarmUp) ?? usual.WarmUpSeconds,
            DriftLimitCountsPerMinute = parsed.GetValue(DriftLimit),
        });
        return (plan, Circumstances(parsed, options) with { Gravity = gravity, Air = air, Weights = weights.Weights });
    }

    /// <summary>What the cell's data sheet says.</summary>
    /// <exception cref="InputException">A figure is not above 0, or below 0 where it may be 0.</exception>
    public static UncertaintyInputs Inputs(ParseResult parsed)
    {
        return new UncertaintyInputs
        {
            FullScaleNewtons = PositiveOption.Read(parsed, FullScale),
            NonLinearityPercent = PositiveOption.Read(parsed, NonLinearity),
            NonLinearityOfBestLine = parsed.GetValue(BestLine),
            TemperaturePercentPerKelvin = PositiveOption.ReadOrZero(parsed, TemperatureEffect),
            TemperatureSpreadKelvin = PositiveOption.ReadOrZero(parsed, TemperatureSpread),
        };
    }

    /// <summary>Gravity where the rig stands.</summary>
    /// <exception cref="InputException">The site is not stated, or out of range.</exception>
    public static LocalGravity Gravity(SiteOptions site, string source)
    {
        try
        {
            // A value that was looked up is taken to be good to 0.1 mm/s², ten times better than a computed one.
            if (site.GravityMetresPerSecondSquared is { } entered) return LocalGravity.Entered(entered, 5e-5);
            if (site.LatitudeDegrees is { } latitude) return LocalGravity.At(latitude, site.HeightMetres);
        }
        catch (RefusalException fault)
        {
            throw new InputException(TerminalText.GuideSiteNotPossible(source, fault.Message), fault);
        }

        throw new InputException(TerminalText.GuideSiteMissing(source));
    }
}
