using System.Globalization;

namespace RigDaq.Rig.Text;

/// <content>Limits that a device does not take.</content>
internal static partial class RigText
{
    public const string LimitsNeed = "The limits need a device, a calibration and a zero.";
    public const string LimitOfSpeed = "speed";

    public static string NoCompressionLimit(double newtons) => string.Create(
        CultureInfo.InvariantCulture, $"The calibration's curve never reaches {-newtons:0.##} N, so the device could not hold that limit: lower the compression limit, or calibrate with a curve of lower degree.");

    public static string MoreThanAllowed(string what, double wanted, double allowed, string unit) => string.Create(
        CultureInfo.InvariantCulture, $"The {what} of {wanted:0.##} {unit} is more than the device allows ({allowed:0.##} {unit}): lower it.");
}
