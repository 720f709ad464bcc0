using System.Globalization;

namespace RigDaq.Daemon.Text;

/// <content>The check weight: the command, and what it says at the rig.</content>
internal static partial class TerminalText
{
    public const string CheckWeightCommand = "Read one mass before work; outside its chart a sequence asks for a new calibration.";
    public const string CheckWeightWeights = "Set the check weight: a CSV file with it (docs/calibration.md), or a kept set; all of it hangs at once.";

    public static string CheckWeightNone(string device) => $"The device {device} has no check weight yet: name it once with --weights.";

    public static string CheckWeightHangs(string weights, double newtons) =>
        string.Create(CultureInfo.InvariantCulture, $"Check weight: {weights}, {newtons:0.000} N. Weights hang over feet: use a tray and a stop.");
}
