namespace RigDaq.Daemon.Text;

/// <content>The pulls on a stiff bar: the command, its cautions, and what it asks at the rig.</content>
internal static partial class TerminalText
{
    public const string MeasureCommand = "Pull on a stiff bar on the rig, and put what is measured in force.";
    public const string MeasureForce = "The force to pull to; the device's own limit stands a quarter above it. About what specimens bear, well below the cell's capacity.";
    public const string MeasurePulls = "How often, 1 to 10; of several the first only beds the grips in.";

    public const string MeasureAskAcknowledge = "Type acknowledge if you have read this.";
    public const string MeasureAskZero = "Hold the bar in one grip, the other one open. Type zero for the force's zero.";
    public const string MeasureAskPull = "Close the other grip, keep the force near zero, close the guard, take hands out. Type pull; any line typed later stops it.";
    public const string MeasureAskAgain = "Type again to pull from the beginning, the bar closed in both grips, the guard closed, hands out; any line typed later stops it. Anything else gives up.";
    public const string MeasureAskAccept = "Type accept to put it in force: it is then taken off the extensions of later runs. Anything else leaves things as they are.";
    public const string MeasureAskHome = "The crosshead does not know yet where it stands, and is only ever sent to a place. Take the bar and all else out of the grips, close the guard, take hands out. Type home; any line typed later stops it.";
    public const string MeasureHome = "the home position";
    public const string MeasureSeparation = "the grips to be as far apart as was asked";
    public const string MeasureHandStopped = "Stopped. The grips are empty: begin again when you are ready.";
    public const string MeasureCleared = "the faults to be cleared";
    public const string MeasureStopped = "Stopped. The bar may be under load: look at the force before a grip is opened.";
    public const string MeasureByHand = "The bar may still be under load, and nothing moves any more. Open no grip: it would spring. Cut the motor's power and turn the screw by hand the way that brings the grips together, a little at a time, until the force no longer falls; or start rigdaq serve, look for the cause, clear the fault on its page, and bring the grips together there in short touches. Open a grip only then.";
    public const string MeasureGivenUp = "Given up. Nothing was changed.";

    public static string MeasureAskSeparation(double millimetres) => FormattableString.Invariant(
        $"The grips are {millimetres:0.#} mm apart. Type how far apart the bar needs them, in mm, or an empty line to stay; any line typed later stops it. Keep hands out until it stands.");

    public static string MeasureNoNumber(string typed) => $"A number in mm was expected, not {typed}.";

    public static string MeasureAskClear(IReadOnlyList<string> faults, double? newtons) =>
        $"The device has stopped and latched: {string.Join("; ", faults)}. {UnderLoad(newtons)} Look at the rig and remove the cause, leave closed grips closed, close the guard, take hands out. Type clear to clear the fault; anything else leaves it.";

    public static string MeasureAskUnload(double? newtons) =>
        $"{UnderLoad(newtons)} Leave both grips closed, close the guard, take hands out. Type unload to let the bar go slowly; any line typed later stops it. Anything else leaves it as it stands.";

    public static string MeasureUnloaded(double? newtons) => FormattableString.Invariant($"The bar is let go; the force is {newtons ?? 0:0.#} N. A grip may be opened.");

    private static string UnderLoad(double? newtons) =>
        newtons is { } force ? FormattableString.Invariant($"The force on the bar is {force:0} N.") : "The force on the bar is not known.";

    public static string MeasureSpeed(double speedMax) => $"The crosshead's speed, up to {speedMax}.";

    public static string MeasureSpeedRange(string option, double speedMax) => $"{option}: above 0 and up to {speedMax} mm/s was expected: a stiff bar takes the force up at once.";

    public static string MeasurePullsRange(string option) => $"{option}: 1 to 10 was expected.";

    public static string MeasureCaution(double newtons, double millimetresPerSecond, double limitNewtons) => FormattableString.Invariant(
        $"A stiff bar takes up force at once: a tenth of a millimetre can be hundreds of newtons, and a bar that slides or springs out hits hands and faces. It is pulled to {newtons:0} N at {millimetresPerSecond} mm/s; the device stops by itself at {limitNewtons:0} N. Keep that below what cell, frame and grips are made for.");

    public static string MeasureAnnounced(double seconds) => $"Pulling in {seconds:0} s: keep clear.";

    public static string MeasureInForce(string compliance) => $"In force: compliance {compliance}. Earlier runs are read with it by: rigdaq study recompute STUDY --compliance {compliance}";

    public static string MeasureOfPull(int pull) => $"pull {pull}";

    public static string MeasurePulled(int pull, double millimetresPerNewton, double toNewtons, bool beds) => FormattableString.Invariant(
        $"Pull {pull}: {1000 * millimetresPerNewton:G4} µm/N up to {toNewtons:0} N{(beds ? " (beds the grips in, is not counted)" : "")}.");

    public static string MeasureSource(int pulls) => pulls switch
    {
        1 => "one pull on the bar",
        2 => "one pull on the bar, after one that bedded the grips in",
        _ => $"{pulls - 1} pulls on the bar, after one that bedded the grips in",
    };
}
