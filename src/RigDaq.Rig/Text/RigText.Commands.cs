namespace RigDaq.Rig.Text;

/// <content>Why a numbered command was not done.</content>
internal static partial class RigText
{
    public const string TooManyCommands = "too many commands wait for the device";
    public const string OvertakenByStop = "a stop overtook it";
    public const string OvertakenByGreeting = "a new greeting overtook it";
    public const string LostByRestart = "the device has restarted";

    public static string LimitsNotTaken(string why) => $"The device did not take the limits: {why}.";

    public const string OtherLimitsConfirmed = "The device confirmed other limits than those sent: nothing moves until they agree.";
    public const string AnswerDone = "done";
    public const string AnswerUnknownType = "the device does not know this command: its firmware is older than this program";
    public const string AnswerBadValue = "the device found a value out of range";
    public const string AnswerWrongBoot = "the device has restarted meanwhile";
    public const string AnswerWrongLimits = "the device holds other limits than those relied on";
    public const string AnswerFaulted = "the device has stopped itself: clear its fault first";
    public const string AnswerGuardOpen = "the guard is open: close it";
    public const string AnswerEmergencyStop = "the emergency stop is pressed: release it when it is safe";
    public const string AnswerNoKeepAlive = "no keep-alive has reached the device in time";
    public const string AnswerBusy = "something else is in motion";
    public const string AnswerNotCapable = "the device cannot do that";
    public const string AnswerOutsideLimits = "that lies outside the limits";
    public const string AnswerNotHomed = "the home position is not known: home first";
    public const string AnswerSuperseded = "a newer command overtook it";

    public static string AnswerOfNewerKind(int result) => $"the device refused with a result of a newer kind ({result})";
}
