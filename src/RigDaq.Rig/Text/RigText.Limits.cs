using System.Globalization;

namespace RigDaq.Rig.Text;

/// <content>Limits that a device does not take.</content>
internal static partial class RigText
{
    public const string LimitsNeed = "The limits need a device, a calibration and a zero.";
    public const string LimitOfSpeed = "speed";

    public static string NoCompressionLimit(double newtons) => string.Create(
        CultureInfo.InvariantCulture, $"The calibration's curve never reaches {-newtons:0.##} N, so the device could not hold that limit: lower the compression limit, or calibrate with a curve of lower degree.");

    public const string SpeedOfPulling = "pulling";
    public const string SpeedOfReturning = "returning";

    public static string StopEndsTooFar(
        string what, double millimetresPerSecond, double limitNewtons, double furtherNewtons, double bearableNewtons, double speedThatWouldDo,
        double newtonsPerMillimetre, double hertz) => string.Create(
        CultureInfo.InvariantCulture,
        $"Run into something stiff ({newtonsPerMillimetre:0.###} N/mm) while {what} at {millimetresPerSecond:0.###} mm/s, the force would go on by {furtherNewtons:0.#} N beyond its limit of {limitNewtons:0.#} N before the device stops ({hertz:0.#} readings a second); the device allows {bearableNewtons:0.#} N. {(speedThatWouldDo > 0.0005 ? $"{Math.Floor(speedThatWouldDo * 1000) / 1000:0.###} mm/s would do, or" : "Take")} a lower limit, or a faster converter.");

    public static string MoreThanAllowed(string what, double wanted, double allowed, string unit) => string.Create(
        CultureInfo.InvariantCulture, $"The {what} of {wanted:0.##} {unit} is more than the device allows ({allowed:0.##} {unit}): lower it.");
}
