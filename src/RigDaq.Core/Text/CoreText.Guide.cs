namespace RigDaq.Core.Text;

/// <content>A guided calibration: what a person is asked to do, told, asked and refused.</content>
internal static partial class CoreText
{
    public const string GuideCaution = "Caution: keep feet and hands from under what hangs, lift heavy weights with two people or from a trolley, look at hook and wire for wear first, "
        + "and never hang more than the weakest part of the load train may carry. Keep the crosshead's motor off. This program is no safety device.";

    public const string GuideBegin = "Take everything off the hook. Waiting until cell and amplifier are warm: keep hands off.";
    public const string GuideKeepOffUntilSteady = "Take everything off the hook and keep hands off until the zero is steady.";
    public const string GuideTakeAllOff = "Take everything off the hook and let it come to rest.";
    public const string GuideLeaveUntilCreepRead = "Leave it hanging until its creep is read.";
    public const string GuideAgreeToSign = "Counts fall as the force rises: agree that the sign is turned, or swap the cell's signal wires and begin again.";
    public const string GuideResumeWhenYouLike = "Stopped. Resume when you like.";
    public const string GuideLookThenAccept = "Look at the figures, then accept or give up.";

    public const string GuideAllTaken = "All readings are taken. Look at the figures, then accept or give up: nothing is in force until you accept.";
    public const string GuideSignQuestion =
        "Counts fall as the force rises: the cell is wired or mounted the other way. Swap its signal wires and begin again, or agree that the sign is turned.";

    public const string GuideLongPause = "The pause was long: this series begins anew, so that its zero belongs to it.";
    public const string GuideDeviceRestarted = "The device started again: its warm-up and this series begin anew. Take everything off the hook.";
    public const string GuideSaturated = "The converter is at its end stop (saturated): too much force, too much gain, or a broken wire. Take the force off.";
    public const string GuideSteadyIt = "Not still: steady what hangs, and take the hands off.";
    public const string GuideNotStillForCreep = "Not still: leave it hanging until the creep is read.";
    public const string GuideMovedInDwell = "It was moved during the dwell: this creep is left out.";

    public const string GuideStopped = "Stopped. What was read is kept; resume when you like.";
    public const string GuideGoingOn = "Going on.";
    public const string GuideSignTurned = "The sign is turned.";
    public const string GuideAccepted = "Accepted.";
    public const string GuideGivenUp = "Given up. The calibration in force stays.";

    public const string GuideFinished = "This calibration is finished.";
    public const string GuideResumeFirst = "Resume first.";
    public const string GuideNotPossibleNow = "That is not possible now.";
    public const string GuideWarmAlready = "It is warm already.";
    public const string GuideNoiseNotKnown = "Wait a few seconds: the noise at rest is not known yet.";
    public const string GuideNothingRejected = "No reading was rejected.";
    public const string GuideNotStill = "It is not still.";
    public const string GuideNothingToTakeAgain = "There is no reading to take again.";
    public const string GuideNoSeriesBegun = "No series has begun.";
    public const string GuideNotAllTaken = "Not all readings are taken yet.";

    public const string GuideNoteWarmUpUnknown = "The warm-up was cut short before its drift was known.";
    public const string GuideNoteSignAgreed = "Agreed: counts fall as the force rises.";

    public static string GuideTakeOff(string description, double newtons) =>
        FormattableString.Invariant($"Take off until {description} hangs ({newtons:0.00} N), without going below it.");

    public static string GuideHang(string description, double newtons) => FormattableString.Invariant($"Hang {description} ({newtons:0.00} N) and steady it.");

    public static string GuideStillWaiting(string instruction) => $"Still waiting. {instruction}";

    public static string GuideNotWarm(double driftCountsPerMinute, double limitCountsPerMinute) =>
        FormattableString.Invariant($"Not warm yet: the zero drifts by {driftCountsPerMinute:0.#} counts a minute, limit {limitCountsPerMinute:0.#}.");

    public static string GuideWarm(double driftCountsPerMinute, double limitCountsPerMinute) =>
        FormattableString.Invariant($"Warm: the zero drifts by {driftCountsPerMinute:0.#} counts a minute, limit {limitCountsPerMinute:0.#}.");

    public static string GuideForceTaken(double newtons, int task, int tasks) => FormattableString.Invariant($"Taken: {newtons:0.00} N ({task} of {tasks}).");

    public static string GuideZeroTaken(int task, int tasks) => $"Taken: zero ({task} of {tasks}).";

    public static string GuideLeaveHanging(double seconds) => FormattableString.Invariant($"Leave it hanging for {seconds:0.#} s more.");

    public static string GuideCreepRead(double seconds) => FormattableString.Invariant($"Creep read after {seconds:0} s.");

    public static string GuideSeriesAgain(string series, double newtons, double percent) => FormattableString.Invariant(
        $"Series {series} at {newtons:0.00} N lies {percent:0.00} % off the other series: series {series} is taken again.");

    public static string GuideReadsOtherForce(double newtons, double askedNewtons, string asked) => FormattableString.Invariant(
        $"This reads {newtons:0.00} N by the readings so far, and {askedNewtons:0.00} N ({asked}) was asked for. Check what hangs, and that nothing touches it; or go back if an earlier one was wrong.");

    public static string GuideReadsForceUnloaded(double newtons) =>
        FormattableString.Invariant($"This reads {newtons:0.00} N where nothing should hang. Take everything off the hook.");

    public static string GuideCannotAccept(string why) => $"It cannot be accepted: {why}";

    public static string GuideNoteWarmUpCut(double driftCountsPerMinute) =>
        FormattableString.Invariant($"The warm-up was cut short at a drift of {driftCountsPerMinute:0.#} counts a minute.");

    public static string GuideNoteTakenAnyway(string series, double newtons) =>
        FormattableString.Invariant($"Taken though it did not fit: series {series}, {newtons:0.00} N.");
}
