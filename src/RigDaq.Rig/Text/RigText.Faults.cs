namespace RigDaq.Rig.Text;

/// <content>What goes wrong in a sequence.</content>
internal static partial class RigText
{
    public static string DidNotMove(string why) => $"The device did not move: {why}.";

    public const string NotComingToRest = "The crosshead does not come to rest after a stop: press the emergency stop and look at the rig.";
    public const string StoringTooLong = "Storing the run takes too long: look at the disk. Nothing is lost, its samples are in the capture.";

    public static string TookTooLong(string what) => $"It took too long ({what}). Look at the rig, then resume.";

    public const string LookingAtForceAtRest = "looking at the force at rest: do samples arrive?";
    public const string HavingLimitsConfirmed = "having the limits confirmed";
    public const string FeedingSpecimen = "feeding a specimen";
    public const string CreatingTheCapture = "creating the capture: look at the disk";
    public const string MovingCrosshead = "moving the crosshead";

    public static string LinkLost(string why) => $"The link was lost: {why}";

    public const string EmergencyStopPressed = "The emergency stop was pressed.";
    public const string ConverterSilent = "The converter delivers no fresh readings: check the load cell's amplifier and its wiring.";
    public const string DeviceRestarted = "The device restarted: look at its power and its cable.";
    public const string GuardOpened = "The guard was opened.";

    public static string DeviceStoppedItself(string faults) => $"The device stopped itself: {faults}. Clear the fault, then resume.";

    public const string DeviceForceLimit = "The device stopped at its force limit.";
    public const string PushesOnWayBack = "What is left in the grips pushes against the crosshead on its way back: take it out, clear the fault, then resume.";
}
