namespace RigDaq.Core.Text;

/// <content>Why readings cannot be made into a calibration.</content>
internal static partial class CoreText
{
    public const string FittingCountsNotFinite = "the counts are no finite number.";
    public const string FittingReferenceRange = "a reference force is 0 (a zero) or above.";
    public const string FittingSaturated = "the converter is at its end stop (saturated): "
        + "the force, the amplifier's gain or the wiring drives it out of range. Take less force or gain, and read again.";

    public static string FittingTooFewPoints(int points, int places, int coefficients) =>
        $"{points} points at {places} places cannot carry {coefficients} coefficients; more points than coefficients are needed.";

    public static string FittingPointsTooClose(int degree) => $"The points lie too close together to carry degree {degree}.";

    public static string FittingSeriesWithoutZero(string series) => $"series {series} has no zero (a reading with reference 0); take one, or fit with a constant.";

    public static string FittingSeriesNeverRose(string series) =>
        $"series {series} falls from a force that it never rose to; a falling reading belongs to the series of its rising one.";
}
