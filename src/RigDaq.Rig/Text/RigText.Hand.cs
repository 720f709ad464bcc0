namespace RigDaq.Rig.Text;

/// <content>Motion by hand.</content>
internal static partial class RigText
{
    public static string JogTooFast(double millimetresPerSecondMax) => $"A jog goes at up to {millimetresPerSecondMax} mm/s either way.";

    public const string CrossheadMoves = "The crosshead moves.";
    public const string CrossheadLooksForHome = "The crosshead looks for home.";

    public static string CrossheadDoesNotMove(string why) => $"The crosshead does not move: {why}.";

    public const string ItLetsGo = "The crosshead goes back while the button is held.";

    public const string HeldItLetsGo =
        "To let go of what is jammed, hold the button of the way it came from: at most 1 mm/s, 5 mm in all. If that is not enough, switch the power off and turn the screw by hand.";

    public static string ItDoesNotLetGo(string why) =>
        $"It lets go only back the way it came, 5 mm in all: {why}. If the other button does not help, switch the power off and turn the screw by hand.";

    public const string HandLimitsSet = "Hand motion goes under these limits.";

    public const string LetGo = "it was let go";
    public const string CannotHome = "This device cannot find a home position.";
    public const string PositionNotKnown = "The position is not known on this device, or none is connected.";

    public static string SeparationOutside(double millimetresMin, double millimetresMax, double millimetres) => FormattableString.Invariant(
        $"The grips can be {millimetresMin:0.#} to {millimetresMax:0.#} mm apart, not {millimetres:0.#} mm.");

    public const string DeviceNotConnected = "The device is not connected.";
    public const string NoFaultLatched = "No fault is latched.";
    public const string FaultsCleared = "The faults whose cause is gone are cleared; the others stay and are shown.";

    public static string FaultsNotCleared(string why) => $"The faults were not cleared: {why}.";

    public const string DeviceGone = "The device went away.";
    public const string SequenceIsRunning = "A sequence is running: stop it first.";
}
