namespace RigDaq.Daemon.Text;

/// <content>What commands at the rig have in common.</content>
internal static partial class TerminalText
{
    /// <summary>What is waited for when a rig was opened.</summary>
    public const string RigHello = "the rig's hello";

    public static string RigPortMissing(string source) => $"{source}, key serial.path: missing; expected the rig's port, for example /dev/ttyACM0.";

    public static string RigNotCalibrated(string device) => $"No calibration is in force for the device {device}: calibrate it first (rigdaq calibrate).";
}
