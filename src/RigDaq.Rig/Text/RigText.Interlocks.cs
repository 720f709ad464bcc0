namespace RigDaq.Rig.Text;

/// <content>The cautions, and what stands against motion.</content>
internal static partial class RigText
{
    public const string CautionHands =
        "Pinch and crush points: keep hands out from between crosshead, grips and frame; keep the guard closed and the travel clear of tools.";
    public const string CautionEyes = "Stored energy is let go at the break: wear eye protection and keep a shield against flying pieces in place.";
    public const string CautionEmergencyStop = "The emergency stop must cut the motor's power in hardware. This software is never the safety device.";
    public const string CautionUnattended =
        "Do not leave a powered rig where others can reach it. For unattended work follow local rules and the advice of qualified people.";

    public static string NotConnected(string why) => "The device is not connected: " + (why.Length > 0 ? why : "check its cable and power.");

    public const string DeviceNotKnown = "The device has not said what it is yet: wait a moment; if it stays so, check its firmware and the baud rate.";
    public const string CheckWeightUnread =
        "The check weight's chart could not be read, so nobody knows whether the calibration still holds. It is tried again every few seconds: look at the data folder and the log if this stays.";

    public const string CheckWeightOutside = "The check weight reads outside its limits: calibrate anew, or find out what changed and read it again.";
    public const string NoCalibrationInForce = "No calibration is in force for this device: calibrate it, or accept for this sequence that forces are not known.";
    public const string CalibrationTooLow = "The calibration does not reach the force limit: lower the limit, calibrate further, or accept that it is extrapolated.";
    public const string CautionsNotRead = "The cautions have not been acknowledged: read and acknowledge them.";
    public const string EmergencyStopNotTested =
        "The emergency stop has not been tested today: press it, best while the crosshead is moved slowly by hand with nothing in the grips; "
        + "see that the motor has no power; release it, clear the fault, home anew, and say so.";
    public const string EmergencyStopNotSeen =
        "The device has not seen the emergency stop pressed today with the motor's power off: press it and look; if it is not seen, check its second contact and its wire.";
    public static string EmergencyStopTestNotKept(string why) => "The test of the emergency stop could not be kept, so it does not count: " + why;

    public const string EmergencyStopTested = "The test of the emergency stop is kept.";
    public const string NoMotor = "This device only measures: it has no motor.";
    public const string GuardIsOpen = "The guard is open: close it.";
    public const string EmergencyStopIsPressed = "The emergency stop is pressed: make sure that it is safe, then release it.";

    public static string Faulted(IReadOnlyList<string> faults) =>
        $"The device has stopped itself: {string.Join("; ", faults)}. Remove the cause, then clear the fault.";

    public const string LimitsNotConfirmed = "The device has not confirmed its limits yet: wait a moment; if it stays so, look at the settings' limits.";
}
