namespace RigDaq.Daemon.Text;

/// <content>The guided calibration in the terminal: the command, its options, and what it says beside the guide's own words.</content>
internal static partial class TerminalText
{
    public const string GuideCommand = "Calibrate the rig with weights, step by step; what is read can be stopped and resumed.";
    public const string GuideWeights = "The weights: a CSV file (kept from then on by its name), or the name of a kept set.";
    public const string GuideReadings = "Readings that were taken already (a reference cell's display, a lever): the CSV of calibration fit.";
    public const string GuideResume = "Go on with the calibration that was stopped.";
    public const string GuideQuick = "One preload and one rising series, no dwell: says what is then not known.";
    public const string GuideSteps = "Steps of a series (5).";
    public const string GuideSeries = "Rising series (3).";
    public const string GuideFalling = "How many of them are also taken falling (1).";
    public const string GuidePreloads = "How often the greatest force is hung first (3).";
    public const string GuideDwell = "How long the greatest force hangs before its creep is read, in seconds (30).";
    public const string GuideZeroReturn = "How long after unloading the zero is read, in seconds (30).";
    public const string GuideWarmUp = "Over how long the drift is looked at before the start, in seconds (60).";
    public const string GuideDriftLimit = "The drift that counts as warm (from the noise).";
    public const string GuideLever = "The weights hang on a lever of this ratio.";
    public const string GuideLeverUncertainty = "The ratio's standard uncertainty.";
    public const string GuideFullScale = "Full scale of the cell.";
    public const string GuideNonLinearity = "Its non-linearity from the data sheet, in per cent of full scale (of the terminal line; see --best-line).";
    public const string GuideBestLine = "The data sheet means the best straight line with its non-linearity.";
    public const string GuideTemperatureEffect = "Its temperature effect on the slope.";
    public const string GuideTemperatureSpread = "How far the room may be from today's temperature.";
    public const string GuideTemperature = "Today's room temperature.";
    public const string GuidePerson = "Who makes it.";
    public const string GuideCell = "The cell in words.";
    public const string GuideAmplifier = "The amplifier's setting in words.";

    public const string GuideDegree = "Degree of the curve, 1 to 3; without it the one that the readings speak for.";
    public const string GuideDegreeRange = "--degree: 1, 2 or 3 was expected.";
    public const string GuideWeightsMissing = "--weights: missing; name the CSV file with your weights (docs/calibration.md), or a kept set.";
    public const string GuideLeverUncertaintyMissing = "--lever-uncertainty: missing; how far may the ratio be off?";

    /// <summary>The words a person can type; what they do is decided by the words, which are not translated.</summary>
    public const string GuideWords = "Words: warm (begin though the zero drifts), anyway (take a reading that was rejected), back (take the last one again), again (begin the series again), "
        + "dwell (leave the creep out), sign (turn the sign), stop (go on another time), accept, give-up.";

    public const string GuideGivenUp = "Given up. The calibration in force stays.";
    public const string GuideReadingsFromFile = "Readings from a file.";

    public static string GuideNoneStopped(string device) => $"There is no stopped calibration of the device {device}. Begin a new one.";

    public static string GuideStopped(int readings) => $"Stopped; {readings} readings are kept. Go on with: rigdaq calibrate --resume";

    public static string GuideGoesOn(int readings) => $"Going on: {readings} readings are kept.";

    public static string GuideAskAccept(string device) => $"Type accept to put it in force for the device {device}; anything else leaves the one in force.";

    public static string GuideInForce(string calibration, DateTimeOffset until) => FormattableString.Invariant($"In force: calibration {calibration}, until {until:yyyy-MM-dd}.");

    public static string GuideRefused(string refusal) => $"The readings cannot carry it: {refusal}";

    public static string GuideSiteNotPossible(string source, string refusal) => $"{source}, key site: {refusal}";

    public static string GuideSiteMissing(string source) =>
        $"{source}, key site.latitudeDegrees: missing; weights pull by local gravity, which differs by 0.5 % over the world. "
        + "State the latitude and height, or site.gravityMetresPerSecondSquared.";
}
