namespace RigDaq.Core.Text;

/// <content>What the daily check weight says.</content>
internal static partial class CoreText
{
    public const string CheckWeightNotRead = "The check weight was not read under this calibration yet.";
    public const string CheckWeightWithin = "The check weight reads within its limits.";

    public static string CheckWeightBeforeChart(double offNewtons, double referenceNewtons, int reading, int readings) =>
        FormattableString.Invariant($"The check weight {CheckWeightReads(offNewtons, referenceNewtons)}; reading {reading} of {readings} before there is a chart.");

    public static string CheckWeightOff(double offNewtons, double referenceNewtons, double allowedNewtons) => FormattableString.Invariant(
        $"The check weight {CheckWeightReads(offNewtons, referenceNewtons)}, more than the uncertainties of calibration and weight allow (±{allowedNewtons:0.000} N): calibrate anew.");

    public static string CheckWeightOutside(double newtons, double lowerNewtons, double upperNewtons) => FormattableString.Invariant(
        $"The check weight reads {newtons:0.000} N, outside {lowerNewtons:0.000} to {upperNewtons:0.000} N. Look for a touching wire or a warm-up that was too short and read it again; if it stays, calibrate anew.");

    public static string CheckWeightShifted(double averageNewtons, double lowerNewtons, double upperNewtons) => FormattableString.Invariant(
        $"The check weight has shifted: its moving average of {averageNewtons:0.000} N lies outside {lowerNewtons:0.000} to {upperNewtons:0.000} N. Calibrate anew.");

    private static string CheckWeightReads(double offNewtons, double referenceNewtons) =>
        FormattableString.Invariant($"reads {offNewtons:+0.000;-0.000;0.000} N off its {referenceNewtons:0.00} N");
}
