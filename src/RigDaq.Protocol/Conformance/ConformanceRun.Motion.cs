using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Conformance;

/// <summary>Limits, and what moves.</summary>
public sealed partial class ConformanceRun
{
    private async Task CheckLimits()
    {
        if (!Moves)
        {
            await Expect(8, "limits are refused by a device that does not move", AnswerResult.NotCapable, n => Limits(n, LimitsId).Write)
                .ConfigureAwait(false);
            return;
        }

        await Expect(8, "limits with id 0 are refused", AnswerResult.BadValue, n => Limits(n, 0).Write).ConfigureAwait(false);
        await Expect(
            8, "limits whose minimum is their maximum are refused", AnswerResult.BadValue,
            n => (Limits(n, LimitsId) with { ForceCountsMin = 5, ForceCountsMax = 5 }).Write).ConfigureAwait(false);
        HelloMessage hello = _peer.Hello!.Value;
        if (hello.HardSpeedStepsPerSecondMax < uint.MaxValue)
            await Expect(
                8, "limits beyond the hard ones are refused", AnswerResult.OutsideLimits,
                n => (Limits(n, LimitsId) with { SpeedStepsPerSecondMax = hello.HardSpeedStepsPerSecondMax + 1 }).Write)
                    .ConfigureAwait(false);

        SetLimitsCommand limits = Limits(++_peer.Number, LimitsId);
        var payload = new byte[FrameLimits.PayloadBytesMax];
        uint expected = LimitsId | ((uint)Crc16.Compute(payload.AsSpan(0, limits.Write(payload))) << 16);
        AnswerMessage? answer = await _peer.Ask(_peer.Frame(limits.Write), limits.Command).ConfigureAwait(false);
        Find(
            8, "limits are confirmed by their id and the checksum of the command",
            answer?.Result == AnswerResult.Done && answer.Value.Detail == expected,
            $"{Seen(answer)}, detail 0x{answer?.Detail:X8}, not 0x{expected:X8}");
        await _peer.Run(150).ConfigureAwait(false);
        Find(8, "the state names the limits in force", _peer.State.LimitsId == LimitsId, $"it names {_peer.State.LimitsId}");
    }

    private async Task CheckMotion()
    {
        if (!Moves) return;
        if (!_mayMove)
        {
            NotChecked(9, "motion, its refusals and the keep-alive", "motion was not allowed for this run");
            return;
        }

        await AcknowledgeAll().ConfigureAwait(false);
        await Expect(10, "faults can be cleared", AnswerResult.Done, n => new ClearFaultsCommand(n, Boot, (DeviceFaults)0xFFFF).Write)
            .ConfigureAwait(false);
        await _peer.Run(600).ConfigureAwait(false);
        await Expect(7, "a motion without a keep-alive is refused", AnswerResult.NoKeepAlive, n => Move(n).Write).ConfigureAwait(false);
        _peer.KeepsAlive = true;
        await _peer.Run(200).ConfigureAwait(false);
        await Expect(
            6, "a motion for another start is refused", AnswerResult.WrongBoot,
            n => (Move(n) with { BootNumber = Boot + 1 }).Write).ConfigureAwait(false);
        await Expect(
            6, "a motion under other limits is refused", AnswerResult.WrongLimits,
            n => (Move(n) with { LimitsId = LimitsId + 1 }).Write).ConfigureAwait(false);
        await Expect(
            6, "a motion of speed 0 is refused", AnswerResult.BadValue,
            n => (Move(n) with { SpeedStepsPerSecond = 0 }).Write).ConfigureAwait(false);
        uint tooFast = _peer.Hello!.Value.HardSpeedStepsPerSecondMax + 1;
        await Expect(
            6, "a motion beyond the speed limit is refused", AnswerResult.OutsideLimits,
            n => (Move(n) with { SpeedStepsPerSecond = (int)tooFast }).Write).ConfigureAwait(false);
        if (_peer.Hello.Value.Capabilities.HasFlag(Capabilities.Homing) && !_peer.State.Flags.HasFlag(StateBits.Homed))
            await Expect(
                6, "a move to a position before homing is refused", AnswerResult.NotHomed,
                n => (Move(n) with { Kind = MoveKind.Position }).Write).ConfigureAwait(false);

        await CheckMoveAndStop().ConfigureAwait(false);
        await CheckSilence().ConfigureAwait(false);
    }

    private async Task CheckMoveAndStop()
    {
        int before = Position(), events = _peer.Events.Count;
        await Expect(9, "a motion that may be is taken", AnswerResult.Done, n => Move(n).Write).ConfigureAwait(false);
        await _peer.Run(500).ConfigureAwait(false);
        Find(
            9, "it moves apart, and the state says so", _peer.State.Motion == MotionState.Moving && Position() > before,
            $"{_peer.State.Motion} at {Position()} from {before}");
        await Expect(9, "Home is busy while it moves", _peer.Hello!.Value.Capabilities.HasFlag(Capabilities.Homing) ? AnswerResult.Busy
            : AnswerResult.NotCapable, n => new HomeCommand(n, Boot, LimitsId, 1).Write).ConfigureAwait(false);
        await Expect(9, "limits are busy while it moves", AnswerResult.Busy, n => Limits(n, LimitsId + 1).Write).ConfigureAwait(false);
        await Expect(
            9, "another move replaces it", AnswerResult.Done,
            n => (Move(n) with { SpeedStepsPerSecond = -Speed }).Write).ConfigureAwait(false);
        await _peer.Run(500).ConfigureAwait(false);
        await Expect(9, "Stop is done", AnswerResult.Done, n => new StopCommand(n, false).Write).ConfigureAwait(false);
        await _peer.Run(500).ConfigureAwait(false);
        int stood = Position();
        await _peer.Run(300).ConfigureAwait(false);
        Find(
            9, "it stands after a stop", _peer.State.Motion == MotionState.Still && Position() == stood,
            $"{_peer.State.Motion}, {Position() - stood} steps further");
        Find(9, "one event tells that the motion ended, and where", OneEnding(events, stood), "none, several, or another position");
        Find(9, "the motor holds at standstill", _peer.State.Flags.HasFlag(StateBits.MotorEnabled), "its power is off");
        await AcknowledgeAll().ConfigureAwait(false);
    }

    private async Task CheckSilence()
    {
        await Expect(7, "a motion is taken again", AnswerResult.Done, n => Move(n).Write).ConfigureAwait(false);
        await _peer.Run(300).ConfigureAwait(false);
        _peer.CounterStands = true; // frames go on, the counter does not: that is no life
        int from = _peer.Now;
        while (_peer.State.Motion != MotionState.Still && _peer.Now - from < 1000) await _peer.Run(10).ConfigureAwait(false);
        // The last one that counted lies up to 100 ms back; the state may come 100 ms late.
        Find(
            7, "it stops 500 ms after the last keep-alive that counted",
            _peer.Now - from is >= 380 and <= 640 && _peer.State.Motion == MotionState.Still,
            $"after {_peer.Now - from} ms it was {_peer.State.Motion}");
        await _peer.Run(150).ConfigureAwait(false);
        Find(
            7, "the lost keep-alive latches and takes the power off",
            _peer.State.Faults == DeviceFaults.KeepAliveLost && !_peer.State.Flags.HasFlag(StateBits.MotorEnabled),
            $"{_peer.State.Faults}, {_peer.State.Flags}");
        _peer.CounterStands = false;
        await _peer.Run(300).ConfigureAwait(false);
        await Expect(7, "a late keep-alive does not free it", AnswerResult.Faulted, n => Move(n).Write).ConfigureAwait(false);
        await Expect(10, "the fault is cleared", AnswerResult.Done, n => new ClearFaultsCommand(n, Boot, DeviceFaults.KeepAliveLost).Write)
            .ConfigureAwait(false);
        await _peer.Run(150).ConfigureAwait(false);
        Find(10, "no fault is left", _peer.State.Faults == DeviceFaults.None, $"{_peer.State.Faults}");
        await AcknowledgeAll().ConfigureAwait(false);
        _peer.KeepsAlive = false;
    }

    /// <summary>Slow: a fiftieth of what the device can, at least one step in 50 ms.</summary>
    private int Speed => (int)Math.Max(20, _peer.Hello!.Value.HardSpeedStepsPerSecondMax / 50);

    private MoveCommand Move(ushort number) =>
        new(number, Boot, LimitsId, MoveKind.Speed, Speed, _peer.Hello!.Value.HardAccelerationStepsPerSecondSquaredMax / 4, 0);

    private SetLimitsCommand Limits(ushort number, ushort id)
    {
        HelloMessage h = _peer.Hello!.Value;
        return new SetLimitsCommand(number, id, h.HardForceCountsMin, h.HardForceCountsMax, h.HardTravelStepsMin, h.HardTravelStepsMax,
            h.HardSpeedStepsPerSecondMax, h.HardAccelerationStepsPerSecondSquaredMax, 10_000);
    }

    private int Position() => _peer.Blocks[^1].LastSteps;

    private bool OneEnding(int from, int position)
    {
        EventMessage[] endings = [.. _peer.Events.Skip(from).Select(e => e.Event).Where(e => e.Code == DeviceEventCode.MotionEnded)
            .DistinctBy(e => e.Number)];
        return endings.Length == 1 && endings[0].Detail == position;
    }
}
