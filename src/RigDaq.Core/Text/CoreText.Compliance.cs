namespace RigDaq.Core.Text;

/// <content>A machine's give: why it cannot be measured from a pull, and what to know of the line.</content>
internal static partial class CoreText
{
    public const string CompliancePositionUnknown = "No position of the crosshead is known: the give cannot be told from the time.";
    public const string ComplianceWithoutContact = "The force never rose above contact: is the bar in both grips?";
    public const string ComplianceSignWrong = "The force does not rise as the crosshead goes apart: check the sign of the position.";
    public const string ComplianceHoldsBar = "The bar's own give is in it: name its length, section and modulus to take that off.";
    public const string BarNotPossible = "A bar's length, section and modulus are above 0.";

    public const string ComplianceInNewtons = "Its forces came in newtons, not in counts: another calibration does not change them. Measure it again under the calibration in force.";

    public static string ComplianceOfOtherDevice(string device, string calibration, string calibrationsDevice) =>
        $"It was measured on the device {device}; the calibration {calibration} is for {calibrationsDevice}.";

    public static string ComplianceNothingRaw(string compliance, string calibration) =>
        $"Of the compliance {compliance} nothing raw is kept, and not all forces change by one factor under the calibration {calibration}: it is left as it was measured. Measure it again: rigdaq compliance measure.";

    public static string ComplianceFittedAgain(string source, string calibration) => $"{source}, fitted again under the calibration {calibration}";

    public static string ComplianceScaled(string source, string calibration) => $"{source}, scaled to the calibration {calibration}: all forces change by one factor";

    public static string ComplianceTooFewSamples(int samplesMin, int samples) =>
        $"At least {samplesMin} samples under load are needed, there are {samples}: pull more slowly, or sample faster.";

    public static string ComplianceForceTooSmall(double newtons, double noisesMin) =>
        FormattableString.Invariant($"The force rose to {newtons:G3} N only, less than {noisesMin:0} times its noise: pull harder.");

    public static string CompliancePositionsTooCoarse(int positionsMin) =>
        $"The crosshead tells fewer than {positionsMin} different positions on the way: its steps are too coarse for this force.";

    public static string ComplianceBelowBars(double barMillimetresPerNewton, double millimetresPerNewton) => FormattableString.Invariant(
        $"By its figures the bar alone gives {barMillimetresPerNewton:G3} mm/N, the crosshead went {millimetresPerNewton:G3} mm/N: check the bar's length, section and modulus.");

    /// <summary>The give of the two halves differs.</summary>
    /// <param name="lowerMillimetresPerNewton">Below the middle.</param>
    /// <param name="middleNewtons">The middle.</param>
    /// <param name="upperMillimetresPerNewton">Above it.</param>
    /// <param name="bendPercent">Lower less upper, in per cent of the whole.</param>
    public static string ComplianceNotStraight(double lowerMillimetresPerNewton, double middleNewtons, double upperMillimetresPerNewton, double bendPercent) =>
        FormattableString.Invariant(
            $"No straight line: {lowerMillimetresPerNewton:G3} mm/N below {middleNewtons:0.#} N, {upperMillimetresPerNewton:G3} mm/N above ({bendPercent:+0;-0} %). ")
        + (bendPercent > 0
            ? "Grips still bed in, or the bar slid: tighten, load it a few times, measure again."
            : "It gives more as the force grows: did the bar slide or yield?");
}
