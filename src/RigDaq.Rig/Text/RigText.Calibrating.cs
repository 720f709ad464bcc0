namespace RigDaq.Rig.Text;

/// <content>Putting a calibration in force.</content>
internal static partial class RigText
{
    public const string PullUnderWay = "A pull is under way or its run is being stored: wait until it has ended.";

    public const string CalibrateAtRest = "The sequence is moving the crosshead: put the calibration in force when it waits for a specimen, or hold it first.";

    public static string CalibrationOfAnother(string device, string ours) => $"This calibration is for device {device}, not for {ours}.";

    public const string NoCalibration = "No calibration is in force.";
    public const string CalibrationInForce = "The calibration is in force.";
}
