using System.Globalization;
using RigDaq.Core.Pulls;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Rig.Text;

/// <content>From the capture to the stored run.</content>
internal static partial class RigText
{
    public const string CreatingCapture = "The capture is being created.";

    public static string NoPullStarted(string why) => $"No pull was started: {why}";

    public static string SamplesNotKept(string why) => $"The samples could not be kept: {why}";

    public static string ForceLimitReached(double newtons) => string.Create(CultureInfo.InvariantCulture, $"The force reached {newtons:0.#} N, the limit.");

    public const string TimeLimitReached = "The time limit was reached";
    public const string TravelEnded = "The travel ended";

    public static string DeviceStoppedIn(string faults) => $"The device stopped itself ({faults})";

    public static string NoForceFelt(string end) => $"{end} and no force was felt.";

    public static string StillHeld(string end) => $"{end} and the specimen still held.";

    public const string StoppedBeforeMotion = "It was stopped before the crosshead moved.";

    public static string TurnNow(string specimen, double preloadNewtons) => string.Create(
        CultureInfo.InvariantCulture,
        $"Turn the handle now, slowly and evenly: the pull of specimen {specimen} begins when it carries {preloadNewtons:0.0##} N.");

    public static string TakingUpSlack(string specimen) => $"Slack of specimen {specimen} is taken up.";

    public static string BeingPulled(string specimen, bool turnedByHand) =>
        $"Specimen {specimen} is being pulled" + (turnedByHand ? ": go on turning, evenly, until it parts." : ".");

    public static string Stopping(bool turnedByHand) => turnedByHand ? "Stop turning the handle." : CrossheadStops;

    public static string Settling(bool turnedByHand) => "What is left settles" + (turnedByHand ? ": leave the handle." : ".");

    public static string TurnBack(string specimen, PullEnding ending, string reason) => $"Specimen {specimen} is {ending.Word()}. {reason} {TurnBackThenNext}";

    public const string TurnBackThenNext = "Turn the handle back until it hangs free, take it out, then resume with the next.";

    public static string TakeOutThenNext(string specimen, string reason) => $"Specimen {specimen}: {reason} Take it out, then resume with the next.";

    public static string Overloaded(string specimen, string reason, bool turnedByHand) =>
        $"Specimen {specimen}: {reason} It may still be under load. "
        + (turnedByHand ? TurnBackThenNext : "Clear the fault and resume: the crosshead goes back and the next one follows.");

    public static string LookAtGrips(string specimen, string reason) =>
        $"Specimen {specimen}: {reason} Look at the grips; resuming pulls it again, skipping leaves it out.";

    public static string DrawnApart(string specimen) => $"What is left of specimen {specimen} is drawn apart before the crosshead goes back.";

    public const string RunBeingStored = "The run is being stored.";
    public const string RunBeingStoredAgain = "The run is being stored again.";
    public const string GoingBack = "The crosshead goes back: keep clear.";

    public static string RunNotStored(string why) => $"The run could not be stored: {why} Its samples are safe in the capture. Resuming tries again; without it the run is stored when RigDaq starts next.";

    public static string StoredAs(string specimen, PullEnding? ending) =>
        $"The run of specimen {specimen} is stored as {ending?.Word()}. Resuming pulls it again, skipping leaves it out.";

    public const string CrossheadStops = "The crosshead stops.";
}
