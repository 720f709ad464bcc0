using System.CommandLine;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Daemon.Configuration;
using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary>The options of <c>rigdaq calibrate</c>, and what they make.</summary>
internal static class CalibrationGuideOptions
{
    public static readonly Option<string?> Config = ConfigOption.Create();
    public static readonly Option<string?> Weights = new("--weights") { Description = "The weights: a CSV file (kept from then on by its name), or the name of a kept set.", HelpName = "SET" };
    public static readonly Option<string?> Readings = new("--readings") { Description = "Readings that were taken already (a reference cell's display, a lever): the CSV of calibration fit.", HelpName = "FILE" };
    public static readonly Option<bool> Resume = new("--resume") { Description = "Go on with the calibration that was stopped." };
    public static readonly Option<bool> Quick = new("--quick") { Description = "One preload and one rising series, no dwell: says what is then not known." };
    public static readonly Option<int> Degree = new("--degree") { Description = "Degree of the curve, 1 to 3.", DefaultValueFactory = _ => 1 };
    public static readonly Option<int?> Steps = new("--steps") { Description = "Steps of a series (5)." };
    public static readonly Option<int?> Series = new("--rising") { Description = "Rising series (3)." };
    public static readonly Option<int?> Falling = new("--falling") { Description = "How many of them are also taken falling (1)." };
    public static readonly Option<int?> Preloads = new("--preloads") { Description = "How often the greatest force is hung first (3)." };
    public static readonly Option<double?> Dwell = new("--dwell-s") { Description = "How long the greatest force hangs before its creep is read, in seconds (30)." };
    public static readonly Option<double?> ZeroReturn = new("--zero-return-s") { Description = "How long after unloading the zero is read, in seconds (30)." };
    public static readonly Option<double?> WarmUp = new("--warm-up-s") { Description = "Over how long the drift is looked at before the start, in seconds (60)." };
    public static readonly Option<double?> DriftLimit = new("--drift-limit-counts-per-minute") { Description = "The drift that counts as warm (from the noise)." };
    public static readonly Option<double?> Lever = new("--lever-ratio") { Description = "The weights hang on a lever of this ratio." };
    public static readonly Option<double?> LeverUncertainty = new("--lever-uncertainty") { Description = "The ratio's standard uncertainty." };
    public static readonly Option<double?> FullScale = new("--full-scale-N") { Description = "Full scale of the cell." };
    public static readonly Option<double?> NonLinearity = new("--non-linearity-percent") { Description = "Its non-linearity from the data sheet, in per cent of full scale (of the terminal line; see --best-line)." };
    public static readonly Option<bool> BestLine = new("--best-line") { Description = "The data sheet means the best straight line with its non-linearity." };
    public static readonly Option<double?> TemperatureEffect = new("--temperature-percent-per-K") { Description = "Its temperature effect on the slope." };
    public static readonly Option<double?> TemperatureSpread = new("--temperature-spread-K") { Description = "How far the room may be from today's temperature." };
    public static readonly Option<double?> Temperature = new("--room-C") { Description = "Today's room temperature." };
    public static readonly Option<string?> Person = new("--person") { Description = "Who makes it." };
    public static readonly Option<string?> Cell = new("--cell") { Description = "The cell in words." };
    public static readonly Option<string?> Amplifier = new("--amplifier") { Description = "The amplifier's setting in words." };

    public static readonly Option[] All =
    [
        Config, Weights, Readings, Resume, Quick, Degree, Steps, Series, Falling, Preloads, Dwell, ZeroReturn, WarmUp, DriftLimit, Lever, LeverUncertainty,
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
    public static Func<ICalibrationDiary, (GuidePlan Plan, CalibrationCircumstances Circumstances)> Plan(ParseResult parsed, DaemonOptions options, string source)
    {
        string set = parsed.GetValue(Weights) ?? throw new InputException("--weights: missing; name the CSV file with your weights (docs/calibration.md), or a kept set.");
        LocalGravity gravity = Gravity(options.Site, source);
        AirDensity air = AirDensity.AtHeight(options.Site.HeightMetres);
        return diary => Plan(parsed, options, CalibrationWeightsFile.Find(set, diary), gravity, air);
    }

    private static (GuidePlan Plan, CalibrationCircumstances Circumstances) Plan(ParseResult parsed, DaemonOptions options, WeightSet weights, LocalGravity gravity, AirDensity air)
    {
        bool quick = parsed.GetValue(Quick);
        try
        {
            var steps = StepPlanner.Suggest(weights.Weights, gravity, air, parsed.GetValue(Steps) ?? 5);
            if (parsed.GetValue(Lever) is { } ratio)
            {
                double uncertainty = parsed.GetValue(LeverUncertainty) ?? throw new InputException("--lever-uncertainty: missing; how far may the ratio be off?");
                steps = [.. steps.Select(step => ReferenceForces.ThroughLever(step, ratio, uncertainty, "the lever"))];
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
        catch (ArgumentException fault)
        {
            throw new InputException(fault.Message.Split(" (Parameter", 2)[0], fault);
        }
    }

    public static UncertaintyInputs Inputs(ParseResult parsed) => new()
    {
        FullScaleNewtons = parsed.GetValue(FullScale),
        NonLinearityPercent = parsed.GetValue(NonLinearity),
        NonLinearityOfBestLine = parsed.GetValue(BestLine),
        TemperaturePercentPerKelvin = parsed.GetValue(TemperatureEffect),
        TemperatureSpreadKelvin = parsed.GetValue(TemperatureSpread),
    };

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
        catch (ArgumentOutOfRangeException fault)
        {
            throw new InputException($"{source}, key site: {fault.Message.Split(" (Parameter", 2)[0]}", fault);
        }

        throw new InputException($"{source}, key site.latitudeDegrees: missing; weights pull by local gravity, which differs by 0.5 % over the world. "
            + "State the latitude and height, or site.gravityMetresPerSecondSquared.");
    }
}
