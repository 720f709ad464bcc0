namespace RigDaq.App.Text;

/// <content>The check weight: the command, and what it says at the rig.</content>
internal static partial class AppText
{
    public const string CheckWeightTakeOff = "Take everything off the hook and keep hands off.";
    public const string CheckWeightHang = "Hang the check weight and steady it.";
    public const string CheckWeightStillZero = "a still zero";
    public const string CheckWeightStill = "the check weight, still";

    public static string CheckWeightWaited(double minutes, string what) => $"Waited {minutes:0} min for {what}, in vain.";

    public static string CheckWeightRigEnded(string what) => $"The rig ended while waiting for {what}.";
}
