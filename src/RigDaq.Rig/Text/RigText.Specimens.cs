using System.Globalization;

namespace RigDaq.Rig.Text;

/// <content>From the zero to a specimen in the grips.</content>
internal static partial class RigText
{
    public const string GivingLimits = "The device is being given its limits.";
    public const string GoingToStart = "The crosshead goes to where specimens are put in: keep clear.";

    public static string FeederPutsIn(string specimen) => $"The feeder puts in specimen {specimen}.";

    public static string PutInBehindShield(string specimen) =>
        $"Put in specimen {specimen} without loading it and stand behind the shield, then confirm the pull. Turn the handle only when you are told to.";

    public static string PutInThenConfirm(string specimen) => $"Put in specimen {specimen}, take hands out and stand clear, then confirm the pull.";

    public static string OpenGuardAndPutIn(string specimen) => $"The zero is taken. Open the guard and put in specimen {specimen}.";

    public static string PutInThenCloseGuard(string specimen) =>
        $"Put in specimen {specimen}, take hands out and close the guard. The pull is then announced and starts by itself.";

    public static string FedSpecimenIsGone(string specimen) => $"Specimen {specimen} was fed and is no longer in the grips: put it back and resume, or skip it.";

    public const string FeederIsEmpty = "The feeder is empty: fill it, then resume.";
    public const string FedNothing = "The feeder ended without a specimen in the grips: look at it, then resume.";
    public const string StartNotReached = "The crosshead did not reach the place where specimens are put in: look whether something blocks it.";

    public static string PullAnnounced(string specimen, double seconds, bool turnedByHand) => turnedByHand
        ? string.Create(CultureInfo.InvariantCulture, $"Specimen {specimen} is pulled in {seconds:0.#} s: stand behind the shield and do not turn the handle yet. The stop calls it off.")
        : string.Create(CultureInfo.InvariantCulture, $"Specimen {specimen} is pulled in {seconds:0.#} s: keep clear. Opening the guard or the stop calls it off.");

    public static string LookingAtClamp(bool turnedByHand) =>
        "The force that clamping put on the specimen is looked at" + (turnedByHand ? ": do not turn the handle yet." : ".");

    public static string ClampedOrTurned(string specimen, double newtons, double newtonsMax) =>
        string.Create(CultureInfo.InvariantCulture, $"{ClampingPut(specimen, newtons)}, more than the {newtonsMax:0.0##} N allowed, or the handle was turned too early: turn it back until the specimen hangs free, then resume.");

    public static string ClampNotRelieved(string specimen, double newtons, double newtonsMax) =>
        string.Create(CultureInfo.InvariantCulture, $"{ClampingPut(specimen, newtons)}, more than the {newtonsMax:0.0##} N allowed, and it could not be relieved: loosen a grip and clamp it again.");

    public static string RelievingClamp(string specimen, double newtons) => $"{ClampingPut(specimen, newtons)}: it is being relieved.";

    private static string ClampingPut(string specimen, double newtons) =>
        string.Create(CultureInfo.InvariantCulture, $"Clamping put {newtons:0.0##} N on specimen {specimen}");
}
