using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>Letting go of what is jammed: while only such faults stand, the held jog goes back out of it (PROTOCOL.md, 9, release).</content>
internal sealed partial class ControlLoop
{
    /// <summary>A release goes no faster; the device holds it to that, and to 5 mm in all.</summary>
    public const double ReleaseMillimetresPerSecondMax = 1;

    /// <summary>Under these a rig stands jammed and must be able to let go.</summary>
    private const DeviceFaults ToRelease =
        DeviceFaults.ForceLimit | DeviceFaults.TravelLimit | DeviceFaults.TimeLimit | DeviceFaults.Converter;

    /// <summary>Whether a held jog is a release now: a fault stands that forbids other motion, and none that forbids this one.</summary>
    private bool CanRelease => !SequenceRuns && _session is { StateKnown: true, Hello: { } hello, LimitsInForce: not null } session
        && hello.Capabilities.HasFlag(Capabilities.Release)
        && session.State.Faults != DeviceFaults.None && (session.State.Faults & ~ToRelease) == DeviceFaults.None
        && MotionInterlocks.ReasonsAgainst(ReleaseFacts() with { CautionsAcknowledged = true }).Count == 0;

    /// <summary>All that stands against hand motion, but for the faults and the converter that it is for.</summary>
    private InterlockFacts ReleaseFacts() => HandFacts() with
    {
        ConverterAlive = true,
        FaultWords = [],
        LimitsConfirmed = true,
        CalibrationInForce = true,
        CalibrationCoversForceLimit = true,
    };

    /// <summary>The device ends a release 300 ms after it was last asked for: each renewal asks again, under the limits that are in force.</summary>
    private void ReleaseBy(double speedMillimetresPerSecond, Action<CommandResult> done)
    {
        if (MotionInterlocks.ReasonsAgainst(ReleaseFacts()) is { Count: > 0 } reasons)
        {
            done(CommandResult.Refused(reasons));
            return;
        }

        DeviceSession session = _session!;
        _handMoves = false; // The faults that end other hand motion are what this one is for.
        _jog = new Jog(speedMillimetresPerSecond) { HeldSince = _time.GetTimestamp() };
        double steps = StepsPerMillimetre ?? 1;
        double speed = Math.Min(Math.Abs(speedMillimetresPerSecond), ReleaseMillimetresPerSecondMax);
        int signed = Math.Max(1, (int)Math.Floor(speed * steps)) * Math.Sign(speedMillimetresPerSecond);
        uint acceleration = Acceleration(_options.HandMotion.AccelerationMillimetresPerSecondSquared, steps, session.LimitsInForce!);
        KeepAlive(session);
        session.Move(MoveKind.Release, signed, acceleration, 0, outcome =>
        {
            // Busy: the one before ends just now.
            if (!outcome.Done && outcome.Result != AnswerResult.Busy) _jog = null;
            done(outcome.Done || outcome.Result == AnswerResult.Busy
                ? CommandResult.Ok(RigText.ItLetsGo)
                : CommandResult.Refused(RigText.ItDoesNotLetGo(outcome.Words)));
        });
    }
}
