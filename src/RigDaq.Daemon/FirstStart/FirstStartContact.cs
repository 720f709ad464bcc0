using RigDaq.Core.Safety;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Messages;

namespace RigDaq.Daemon.FirstStart;

/// <summary>An input that a person can work with a hand.</summary>
/// <param name="Name">For people.</param>
/// <param name="Input">Its bit.</param>
/// <param name="IsSetAtRest">Whether the bit is set where nobody works it.</param>
/// <param name="Has">The capability that says whether the device has it.</param>
/// <param name="Work">What works it.</param>
/// <param name="Back">What lets it go again.</param>
internal sealed record FirstStartContact(string Name, InputStates Input, bool IsSetAtRest, Capabilities Has, FirstStartAct Work,
    FirstStartAct Back)
{
    public static FirstStartContact Guard { get; } = new(
        TerminalText.FirstStartGuard, InputStates.GuardClosed, true, Capabilities.Guard, FirstStartAct.OpenGuard, FirstStartAct.CloseGuard);

    public static FirstStartContact Stop { get; } = new(
        TerminalText.FirstStartStop, InputStates.EmergencyStopReleased, true, Capabilities.EmergencyStop, FirstStartAct.PressStop,
            FirstStartAct.ReleaseStop);

    public static FirstStartContact Lower { get; } = new(
        TerminalText.FirstStartLower, InputStates.LowerLimit, false, Capabilities.TravelLimits, FirstStartAct.PressLower,
            FirstStartAct.LetGoOfLower);

    public static FirstStartContact Upper { get; } = new(
        TerminalText.FirstStartUpper, InputStates.UpperLimit, false, Capabilities.TravelLimits, FirstStartAct.PressUpper,
            FirstStartAct.LetGoOfUpper);

    /// <summary>The steps in which nothing moves, and the contact of each.</summary>
    public static IReadOnlyList<(FirstStartStep Step, FirstStartContact Contact)> Standing { get; } =
    [
        (FirstStartStep.Guard, Guard),
        (FirstStartStep.EmergencyStop, Stop),
        (FirstStartStep.LowerLimit, Lower),
        (FirstStartStep.UpperLimit, Upper),
    ];
}
