namespace RigDaq.Core.Text;

/// <content>Why a calibration does not hold, or soon will not.</content>
internal static partial class CoreText
{
    public const string CalibrationAcceptedLater = "It was accepted later than the clock shows now: look at this machine's clock.";

    public const string CalibrationCellOverloaded = "The cell was overloaded";
    public const string CalibrationCellChanged = "The cell was changed";
    public const string CalibrationAmplifierChanged = "The amplifier was set otherwise";
    public const string CalibrationDeclaredInvalid = "It was declared invalid";

    public static string CalibrationOfOtherDevice(string device, string connected) => $"It was made for the device {device}; the one connected is {connected}.";

    public static string CalibrationEnded(DateTimeOffset on) => FormattableString.Invariant($"It ended on {on:yyyy-MM-dd}.");

    public static string CalibrationEnds(DateTimeOffset on) => FormattableString.Invariant($"It ends on {on:yyyy-MM-dd}: plan a new one.");

    public static string CalibrationOfOtherCell(string then, string now) => $"The cell was “{then}” and is “{now}” now.";

    public static string CalibrationOfOtherAmplifier(string then, string now) => $"The amplifier's setting was “{then}” and is “{now}” now.";

    public static string CalibrationInvalidated(string what, DateTimeOffset at, string why) => FormattableString.Invariant($"{what} on {at:yyyy-MM-dd HH:mm}: {why}");
}
