using System.Globalization;

namespace RigDaq.Rig.Text;

/// <content>Taking the zero.</content>
internal static partial class RigText
{
    public const string TakingZero = "The zero is being taken with the far grip open: do not touch the rig.";

    public static string ZeroIsDue(int pulls) => $"The zero has served {pulls} pulls and another one is due: resume, and open the far grip when you are asked to.";

    public static string OpenFarGrip(bool hasGuard, double? shiftNewtons) =>
        "A zero is to be taken, and a piece may join the grips. Open the far grip or take the piece out, take hands out"
        + $"{(hasGuard ? " and close the guard" : "")}, then confirm. "
        + "If the piece is under load, stop the sequence and move the crosshead by hand until it hangs free before you open a grip."
        + (shiftNewtons is { } shift
            ? string.Create(CultureInfo.InvariantCulture, $" The force at rest lay {shift:0.0##} N from the zero before; the next one is taken as it is.")
            : "");

    public static string ZeroFarFromBefore(double shiftNewtons) => string.Create(
        CultureInfo.InvariantCulture,
        $"The force at rest lies {shiftNewtons:0.0##} N from the zero before: is a specimen still in the grips? Take it out; resuming asks for the far grip to be open, then takes a new zero as it is.");

    public static string TakingZeroApart(bool turnedByHand) =>
        "The zero of the next one is taken while the halves are apart: do not touch the rig" + (turnedByHand ? ", leave the handle." : ".");

    public const string HalvesDrawnApart = "The halves are drawn apart, so that nothing joins the grips while the zero of the next one is taken.";

    public static string ForceNotAtRest(string why) => $"The force does not come to rest: {why}. Look for vibration, a swinging part or a loose cable; then resume.";
}
