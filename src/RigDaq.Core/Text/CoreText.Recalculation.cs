namespace RigDaq.Core.Text;

/// <content>Why a run was read again, and which calibrations the runs of a study were read by.</content>
internal static partial class CoreText
{
    public static string RecalculatedUnder(string calibration, DateTimeOffset acceptedAt, string before) =>
        FormattableString.Invariant($"read under the calibration {calibration} of {acceptedAt:yyyy-MM-dd} instead of {before}");

    public static string RecalculatedWithCompliance(string compliance, string? before) => $"read with the machine compliance {compliance} instead of {before ?? "none"}";

    public static string RecalculatedWithoutCompliance(string? before) => $"read without the machine compliance {before}";

    public static string RecalculatedAgain(string calibration) => $"read again under the calibration {calibration}";

    public static string RunsReadBySeveralCalibrations(int calibrations) =>
        $"The runs were read by {calibrations} calibrations. Their share of the uncertainty does not cancel between groups: read all runs under one calibration, or compare only runs under the same.";
}
