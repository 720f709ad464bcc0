namespace RigDaq.Core.Text;

/// <content>Where the uncertainty of a strength comes from, and what would shrink it.</content>
internal static partial class CoreText
{
    public const string OriginSection = "section: spread and step of the readings";
    public const string OriginCaliper = "caliper's own error";
    public const string OriginBending = "alignment: bending in the grips";
    public const string OriginBendingDistribution = "rectangular from 0, /√3";
    public const string OriginZero = "zero of the pull";
    public const string OriginPeak = "peak force: noise and sampling";
    public const string OriginPeakAndZero = "peak force: noise, sampling and zero";

    public const string AdviceWeights = "Calibrate with weights of the next better class";
    public const string AdviceSeries = "Take twice as many rising series in the calibration";
    public const string AdviceCurve = "Fit a curve of degree 2 where the readings speak for it, or a straighter cell";
    public const string AdviceZero = "Read the zero after unloading in the calibration";

    public const string AdvicePeak = "Take noise off the line, sample faster or pull more slowly (reckoned with half of what the peak's reading has)";
    public const string AdviceZeroOfPull = "Let the zero settle and look at it longer before a pull (reckoned with half of what it has)";
    public const string AdviceReadings = "Read each dimension at three times as many places";

    public static string OriginSectionOf(string basis) => $"section: {basis}";

    public static string CaliperAssumed(double millimetres) =>
        FormattableString.Invariant($"The caliper's own error is not known: ±{millimetres} mm is assumed (bench.caliperErrorMillimetres in the configuration).");

    public static string BendingAssumed(double percent) =>
        FormattableString.Invariant($"Bending in the grips was not measured: {percent} % is assumed (bench.bendingPercent in the configuration).");

    public static string AdviceThen(string advice) => $"With that done: {char.ToLowerInvariant(advice[0])}{advice[1..]}";

    public static string AdviceRoom(double kelvin) => FormattableString.Invariant($"Keep the room within {kelvin} K of the calibration's temperature, and enter that");

    public static string AdviceSheet(double percent) => FormattableString.Invariant($"Enter the cell's non-linearity from its data sheet (reckoned with {percent} % of full scale)");

    public static string AdviceReferences(double forceNewtons) => FormattableString.Invariant($"Calibrate with references up to {forceNewtons:0.#} N, for example by a lever");

    public static string AdviceMicrometer(double millimetres) => FormattableString.Invariant($"Measure the sections with a micrometer (error limit {millimetres} mm)");

    public static string AdviceAlignment(double percent) => FormattableString.Invariant($"Align the load train (joints in both grips) and measure the bending: {percent} %");
}
