using RigDaq.Core.Safety;
using RigDaq.Protocol.Messages;

namespace RigDaq.Daemon.Text;

/// <content>The first start: the command, its cautions, and what it asks at the rig.</content>
internal static partial class TerminalText
{
    public const string FirstStartCommand = "Try a newly built or changed rig: each input by hand, then its first millimetres at creep speed.";

    public const string FirstStartCaution = "Nothing in the grips. With the power off, turn the screw by hand until the crosshead stands in mid-travel; then the motor's supply on, its current limited as low as it goes. One hand stays at the emergency stop whenever something may move. Work the limit switches with a stick, never with a finger between moving parts. This finds mistakes of building and wiring; it does not make the rig safe: local rules and qualified people decide that.";

    /// <summary>What is typed; the prompts name it.</summary>
    public const string FirstStartSayAcknowledge = "acknowledge", FirstStartSayGo = "go", FirstStartSayGone = "gone";

    public const string FirstStartGuard = "the guard";
    public const string FirstStartStop = "the emergency stop";
    public const string FirstStartLower = "the lower limit (grips together)";
    public const string FirstStartUpper = "the upper limit (grips apart)";

    public const string FirstStartPull = "Pull at the upper grip by hand, the way a specimen would pull at it, with some newtons, and keep pulling until it is seen. A typed line leaves this out.";
    public const string FirstStartPullSeen = "a pull by hand";
    public const string FirstStartLetGoOfCell = "Let go.";
    public const string FirstStartCellRests = "the cell to come to rest";
    public const string FirstStartConversions = "conversions";
    public const string FirstStartNotSeen = "It was not seen.";
    public const string FirstStartNotBegun = "It was not begun, or stopped by a person.";
    public const string FirstStartNotReached = "It was not reached.";
    public const string FirstStartStands = "the crosshead to stand";
    public const string FirstStartAskWhichWay = "Look: which way did the grips go? Type apart, together or none.";
    public const string FirstStartAskPower = "Look at the motor's supply: the driver's lamp is out, the motor has no holding torque and the screw can be turned by hand. Type gone if its power is gone.";
    public const string FirstStartPowerStays = "The motor's supply was not gone: the stop's first contact has to cut it in hardware (docs/safety.md).";
    public const string FirstStartStopHeld = "It ended the motion and took the power; kept as the test of the day, too.";
    public const string FirstStartGuardHeld = "It ended the motion and the device took the enable away.";
    public const string FirstStartStillEnabled = "The motion ended, but the device keeps the motor enabled.";
    public const string FirstStartHomed = "Home is found, touched twice.";
    public const string FirstStartWentOn = "The device saw it and the crosshead went on; it was stopped from here. Do not use this rig.";
    public const string FirstStartNothingStopped = "Nothing stopped it on all of its way: was the right switch worked?";
    public const string FirstStartStopped = "Stopped by a typed line.";
    public const string FirstStartNotBegunAtAll = "Nothing was tried.";
    public const string FirstStartPassed = "All that this device has was tried and did what it must. It is kept. Go on with docs/build-a-rig.md: unplugging, the converter's wires, the hard limits.";
    public const string FirstStartNotPassed = "The first start is not passed; what was found is kept. Cut the power, mend it, and begin again from the start.";

    public static string FirstStartNoMotor(string name) => $"{name} announces no motion: there is nothing to start. Without hard force limits of its own a device of ours measures only; rigdaq check --device holds it to the protocol.";

    public static string FirstStartCountsRise(double counts) => FormattableString.Invariant($"A pull raises the counts, here by {counts:0}.");

    public static string FirstStartCountsFall(double counts) => FormattableString.Invariant(
        $"A pull lowers the counts, here by {counts:0}: turn the cell's sign in the firmware's figures, or swap its two signal wires. Force limits stand on the wrong side until then.");

    public static string FirstStartReadsWorked(string contact) => $"{Begin(contact)} reads as open, pressed or reached. Bring it back to rest; if it is, its wire is cut, or its contact is not normally closed.";

    public static string FirstStartAlwaysWorked(string contact) => $"{Begin(contact)} never came to rest: a cut wire reads so, and a contact that is not normally closed.";

    public static string FirstStartRests(string contact) => $"{contact} at rest";

    public static string FirstStartWorked(string contact) => $"{contact} to be worked";

    public static string FirstStartStays(string contact) => $"{Begin(contact)} did not come back to rest.";

    public static string FirstStartAlone(string contact) => $"{Begin(contact)} shows what is done to it, and no other input does.";

    public static string FirstStartOther(string contact, InputStates other) => $"When {contact} was worked, another input changed ({other}): wires or switches are swapped.";

    public static string FirstStartHasNone(string what) => what.Length == 0 ? "The device has none." : $"The device does not have {what}.";

    public static string FirstStartWork(FirstStartAct act) => act switch
    {
        FirstStartAct.OpenGuard => "Open the guard.",
        FirstStartAct.CloseGuard => "Close the guard.",
        FirstStartAct.PressStop => "Press the emergency stop.",
        FirstStartAct.ReleaseStop => "Release the emergency stop; where its relay has a reset, press that.",
        FirstStartAct.PressLower => "Press the switch of the lower limit (grips together) and keep it pressed.",
        FirstStartAct.LetGoOfLower => "Let go of the lower limit's switch.",
        FirstStartAct.PressUpper => "Press the switch of the upper limit (grips apart) and keep it pressed.",
        FirstStartAct.LetGoOfUpper => "Let go of the upper limit's switch.",
        _ => "",
    };

    public static string FirstStartWay(bool apart) => apart ? "apart" : "together";

    public static string FirstStartAskWay(string way, double millimetres) =>
        $"The grips are to creep {way} by {millimetres} mm. Hands out, guard closed, a hand at the emergency stop. Type go; any line typed later stops it.";

    public static string FirstStartWent(string way) => $"Commanded {way}, the grips went {way}.";

    public static string FirstStartWentWrong(string way, string? seen) => string.IsNullOrEmpty(seen) || seen.Equals("none", StringComparison.OrdinalIgnoreCase)
        ? $"Commanded {way}, nothing was seen to go: look at the driver's supply, its step and enable wires, and at the coupling."
        : $"Commanded {way}, the grips went {seen}: the drive runs the wrong way. With the power off swap the two wires of one coil at the driver. Nothing moves until then: a limit would be looked for at the wrong end.";

    public static string FirstStartReversed(string way, string behind) =>
        $"Commanded {way}, the crosshead reached {behind}, which lies behind it: the drive runs the wrong way, or the two limits are swapped. With the power off swap the two wires of one coil at the driver.";

    public static string FirstStartAskLimit(string way, string limit, double millimetres) =>
        $"The grips are to creep {way}, {millimetres} mm at most. While they do, work {limit} with a stick: that has to stop them. Guard closed, a hand at the emergency stop. Type go; any line typed later stops it.";

    public static string FirstStartLimitHeld(string limit) => $"{Begin(limit)} stopped it.";

    public static string FirstStartAskStop(double millimetres) =>
        $"The grips are to creep apart, {millimetres} mm at most. While they do, press the emergency stop. Type go; any line typed later stops it.";

    public static string FirstStartAskGuard(double millimetres) =>
        $"The grips are to creep together, {millimetres} mm at most. While they do, open the guard, hands out. Type go; any line typed later stops it.";

    public static string FirstStartAskHome(double millimetresPerSecond) =>
        $"The crosshead is to look for its home at the lower limit, at {millimetresPerSecond} mm/s: nothing in the grips, hands out, guard closed, a hand at the emergency stop. Type go; any line typed later stops it.";

    public static string FirstStartOtherFault(IReadOnlyList<string> faults) => faults.Count == 0 ? "The motion ended by itself." : $"It was stopped by something else: {string.Join("; ", faults)}.";

    public static string FirstStartDoesNotMove(string words) => words.Length == 0 ? "It does not get on." : $"It does not get on: {words}";

    public static string FirstStartFound(FirstStartFinding finding) => $"{FirstStartOutcomeOf(finding.Outcome)}: {FirstStartStepOf(finding.Step)}. {finding.Detail}";

    private static string FirstStartOutcomeOf(FirstStartOutcome outcome) => outcome switch
    {
        FirstStartOutcome.Passed => "Passed",
        FirstStartOutcome.Failed => "FAILED",
        FirstStartOutcome.NotThere => "Not there",
        _ => "Left out",
    };

    private static string FirstStartStepOf(FirstStartStep step) => step switch
    {
        FirstStartStep.Converter => "a pull by hand at the cell",
        FirstStartStep.Guard => "the guard, standing",
        FirstStartStep.EmergencyStop => "the emergency stop, standing",
        FirstStartStep.LowerLimit => "the lower limit, standing",
        FirstStartStep.UpperLimit => "the upper limit, standing",
        FirstStartStep.Apart => "apart goes apart",
        FirstStartStep.Together => "together goes together",
        FirstStartStep.UpperLimitWhileApart => "the upper limit ahead of a motion apart",
        FirstStartStep.LowerLimitWhileApart => "the lower limit behind a motion apart",
        FirstStartStep.LowerLimitWhileTogether => "the lower limit ahead of a motion together",
        FirstStartStep.UpperLimitWhileTogether => "the upper limit behind a motion together",
        FirstStartStep.EmergencyStopInMotion => "the emergency stop in motion",
        FirstStartStep.GuardInMotion => "the guard in motion",
        _ => "homing",
    };

    private static string Begin(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}
