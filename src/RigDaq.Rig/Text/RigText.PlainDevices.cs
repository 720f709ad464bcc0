using System.Globalization;

namespace RigDaq.Rig.Text;

/// <content>Devices that print numbers or are asked.</content>
internal static partial class RigText
{
    public const string ClaimWarning =
        "Forces are the device's own claim: no reference stands behind them, they have no uncertainty, and results should not be published before the cell is calibrated.";

    public static string StampsMadeHere(double readingsPerSecond, double milliseconds) => string.Create(
        CultureInfo.InvariantCulture,
        $"Stamps are made here: {readingsPerSecond:0.#} readings/s, a stamp is known to {milliseconds:0.##} ms (standard uncertainty); rates are the less certain for it.");

    public static string PrintsNumbers(string link) => $"{link}, a device that prints numbers";

    public static string IsAsked(string link) => $"{link}, an instrument that is asked";

    public static string WasListenedTo(string link) => $"{link} was listened to.";

    public const string NothingArrived = "nothing arrived: check the device's power, its cable, the port and the baud rate";

    public static string NoLinesOfText(long bytes) => $"{bytes} bytes arrived that are no lines of text: the baud rate differs, or the device does not print lines";
}
