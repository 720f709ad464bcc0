using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>Motion by hand: jogging, homing, moving to a grip separation, and the zero outside of a sequence.</content>
internal sealed partial class ControlLoop
{
    /// <summary>How long a zero outside of a sequence may take, in wall time.</summary>
    public static readonly TimeSpan HandZeroMax = TimeSpan.FromSeconds(10);

    /// <summary>
    /// So many windows are looked at before a zero by hand is given up: noise alone makes one in some hundreds seem to move
    /// (<see cref="StillWindow"/>), three in a row one in some ten millions.
    /// </summary>
    public const int HandZeroTriesMax = 3;

    /// <summary>Before a device that can home has homed, a jog goes no faster, in mm/s: nobody knows yet how far the end is.</summary>
    public const double UnhomedJogMillimetresPerSecondMax = 2;

    private DeviceLimits? _handLimits;
    private Jog? _jog;
    private bool _handMoves;
    private HandZero? _handZero;

    /// <summary>Moves while it is held.</summary>
    public void JogBy(double speedMillimetresPerSecond, Action<CommandResult> done)
    {
        if (speedMillimetresPerSecond == 0)
        {
            StopJog();
            done(CommandResult.Ok(RigText.CrossheadStops));
            return;
        }

        if (!double.IsFinite(speedMillimetresPerSecond) || Math.Abs(speedMillimetresPerSecond) > _options.HandSpeedMaxMillimetresPerSecond)
        {
            done(CommandResult.Refused(RigText.JogTooFast(_options.HandSpeedMaxMillimetresPerSecond)));
            return;
        }

        if (CanRelease)
        {
            ReleaseBy(speedMillimetresPerSecond, done);
            return;
        }

        if (_jog is { } jog && jog.Speed.Equals(speedMillimetresPerSecond))
        {
            jog.HeldSince = _time.GetTimestamp();
            done(CommandResult.Ok(RigText.CrossheadMoves));
            return;
        }

        var next = new Jog(speedMillimetresPerSecond) { HeldSince = _time.GetTimestamp() };
        _jog = next;
        ByHand(RigText.CrossheadMoves, done, (session, limits, answered) =>
        {
            // It may have been let go while the limits were on their way.
            if (_jog != next)
            {
                answered(CommandOutcome.NotSent(RigText.LetGo));
                return;
            }

            double steps = StepsPerMillimetre ?? 1;
            bool lost = session.Hello?.Capabilities.HasFlag(Capabilities.Homing) == true && !session.State.Flags.HasFlag(StateBits.Homed);
            double most = lost ? Math.Min(limits.SpeedStepsPerSecondMax, UnhomedJogMillimetresPerSecondMax * steps) : limits.SpeedStepsPerSecondMax;
            int speed = (int)Math.Clamp(Math.Round(speedMillimetresPerSecond * steps), -most, most);
            uint acceleration = Acceleration(_options.HandMotion.AccelerationMillimetresPerSecondSquared, steps, limits);
            // To the end of the travel rather than on and on, where the position is known: arriving is no fault.
            bool toEnd = session.State.Flags.HasFlag(StateBits.Homed);
            session.Move(
                toEnd ? MoveKind.Position : MoveKind.Speed, toEnd ? Math.Abs(speed) : speed, acceleration,
                speed > 0 ? limits.TravelStepsMax : limits.TravelStepsMin, answered);
        });
    }

    /// <summary>Finds home.</summary>
    public void Home(Action<CommandResult> done)
    {
        StopJog();
        if (_hello is { } hello && !hello.Capabilities.HasFlag(Capabilities.Homing))
        {
            done(CommandResult.Refused(RigText.CannotHome));
            return;
        }

        ByHand(RigText.CrossheadLooksForHome, done, (session, limits, answered) =>
        {
            double speed = _options.HandSpeedMaxMillimetresPerSecond * (StepsPerMillimetre ?? 1);
            session.Home((uint)Math.Clamp(speed, 1, limits.SpeedStepsPerSecondMax), answered);
        });
    }

    /// <summary>Moves to a distance between the grips.</summary>
    public void MoveToSeparation(double millimetres, Action<CommandResult> done)
    {
        StopJog();
        double position = millimetres - _options.GripSeparationAtHomeMillimetres;
        if (!double.IsFinite(position) || _hello is not { } hello || StepsPerMillimetre is not { } steps)
        {
            done(CommandResult.Refused(RigText.PositionNotKnown));
            return;
        }

        if (position * steps < hello.HardTravelStepsMin || position * steps > hello.HardTravelStepsMax)
        {
            double offset = _options.GripSeparationAtHomeMillimetres;
            done(CommandResult.Refused(RigText.SeparationOutside(offset + (hello.HardTravelStepsMin / steps), offset + (hello.HardTravelStepsMax / steps), millimetres)));
            return;
        }

        GoTo(position * steps, _options.HandSpeedMaxMillimetresPerSecond, steps, done);
    }

    /// <summary>Moves to a position, from standstill or in place of such a motion.</summary>
    public void MoveTo(double positionMillimetres, double speedMillimetresPerSecond, Action<CommandResult> done)
    {
        StopJog();
        if (StepsPerMillimetre is not { } steps || !(Math.Abs(positionMillimetres * steps) < int.MaxValue))
        {
            done(CommandResult.Refused(RigText.PositionNotKnown));
            return;
        }

        if (!(speedMillimetresPerSecond > 0 && speedMillimetresPerSecond <= _options.HandSpeedMaxMillimetresPerSecond))
        {
            done(CommandResult.Refused(RigText.JogTooFast(_options.HandSpeedMaxMillimetresPerSecond)));
            return;
        }

        GoTo(positionMillimetres * steps, speedMillimetresPerSecond, steps, done);
    }

    /// <summary>Hand motion goes under these limits from now on.</summary>
    public CommandResult SetHandMotion(Core.Pulls.PullSettings settings, double speedMaxMillimetresPerSecond)
    {
        _options = _options with { HandMotion = settings, HandSpeedMaxMillimetresPerSecond = speedMaxMillimetresPerSecond };
        // Limits were made for those before.
        _handLimits = null;
        ShowNow();
        return CommandResult.Ok(RigText.HandLimitsSet);
    }

    /// <summary>Clears the faults whose cause is gone.</summary>
    public void ClearFaults(Action<CommandResult> done)
    {
        if (_session is not { StateKnown: true } session)
        {
            done(CommandResult.Refused(RigText.DeviceNotConnected));
            return;
        }

        if (session.State.Faults == DeviceFaults.None)
        {
            done(CommandResult.Ok(RigText.NoFaultLatched));
            return;
        }

        session.ClearFaults(session.State.Faults, outcome => done(outcome.Done
            ? CommandResult.Ok(RigText.FaultsCleared)
            : CommandResult.Refused(RigText.FaultsNotCleared(outcome.Words))));
    }

    /// <summary>Takes the zero outside of a sequence.</summary>
    public void TakeHandZero(Action<CommandResult> done)
    {
        if (_sequence is { Stage: SequenceStage.Held })
        {
            // What hangs in the grips would be tared away, and the next pull would not have it.
            done(CommandResult.Refused(RigText.HeldKeepsZero));
            return;
        }

        if (_sequence is { Stage: not SequenceStage.Finished })
        {
            CommandResult asked = Wish(new ZeroAsked(), RigText.ZeroIsBeingTaken);
            bool asks = asked.Done && _sequence is { Step: SequenceStep.AwaitingOpenGrip };
            done(asks ? CommandResult.Ok(RigText.OpenGripFirst) : asked);
            return;
        }

        if (_handZero is not null || _session is not { StateKnown: true })
        {
            done(CommandResult.Refused(_handZero is null ? RigText.DeviceNotConnected : RigText.ZeroTakenAlready));
            return;
        }

        _handZero = new HandZero(_time.GetTimestamp(), done);
        OpenHandZero(_handZero);
    }

    private void OpenHandZero(HandZero asked)
    {
        asked.Tries++;
        asked.Window = new SignalWindow(_options.HandMotion.ZeroSeconds, HandZeroSeen);
        _signal.Open(asked.Window);
    }

    private void HandZeroSeen(Stillness seen)
    {
        if (_handZero is not { } asked) return;
        if (!seen.IsStill && asked.Tries < HandZeroTriesMax)
        {
            asked.Reason = seen.Reason;
            OpenHandZero(asked);
            return;
        }

        _handZero = null;
        if (seen.IsStill)
        {
            _zeroCounts = seen.Mean;
            _zeroDeviation = seen.Deviation;
            // Limits were made for the zero before.
            _handLimits = null;
            asked.Done(CommandResult.Ok(RigText.ZeroIsTaken));
        }
        else
        {
            asked.Done(CommandResult.Refused(RigText.KeepHandsOff(seen.Reason)));
        }

        ShowNow();
    }

    private void GoTo(double targetSteps, double speedMillimetresPerSecond, double stepsPerMillimetre, Action<CommandResult> done) =>
        ByHand(RigText.CrossheadMoves, done, (session, limits, answered) => session.Move(
            MoveKind.Position,
            (int)Math.Clamp(speedMillimetresPerSecond * stepsPerMillimetre, 1, limits.SpeedStepsPerSecondMax),
            Acceleration(_options.HandMotion.AccelerationMillimetresPerSecondSquared, stepsPerMillimetre, limits),
            (int)Math.Round(targetSteps),
            answered));

    /// <summary>Every motion by hand: interlocks, limits, interlocks once more, then the motion.</summary>
    private void ByHand(
        string moves, Action<CommandResult> done, Action<DeviceSession, DeviceLimits, Action<CommandOutcome>> begin)
    {
        if (SequenceRuns)
        {
            _jog = null;
            done(CommandResult.Refused(RigText.SequenceIsRunning));
            return;
        }

        IReadOnlyList<string> reasons = MotionInterlocks.ReasonsAgainst(HandFacts() with { LimitsConfirmed = true });
        if (reasons.Count > 0 || _session is not { Hello: { } hello } session)
        {
            _jog = null;
            done(CommandResult.Refused(reasons.Count > 0 ? reasons : [RigText.DeviceNotConnected]));
            return;
        }

        if (MakeHandLimits(hello) is not { } limits)
        {
            _jog = null;
            done(CommandResult.Refused(MakeHand(hello).Words));
            return;
        }

        Happen(new HandMoved());
        if (session.LimitsInForce == limits)
        {
            Begin(null);
            return;
        }

        session.SetLimits(limits, Begin);

        void Begin(string? refused)
        {
            IReadOnlyList<string> now = MotionInterlocks.ReasonsAgainst(HandFacts());
            if (refused is not null || now.Count > 0 || SequenceRuns)
            {
                _jog = null;
                done(CommandResult.Refused(refused is not null ? [refused] : now.Count > 0 ? now : [RigText.SequenceIsRunning]));
                return;
            }

            KeepAlive(session);
            begin(session, limits, outcome =>
            {
                if (outcome.Done) _handMoves = true;
                else _jog = null;
                done(outcome.Done ? CommandResult.Ok(moves) : CommandResult.Refused(RigText.CrossheadDoesNotMove(outcome.Words)) with
                {
                    IsPassing = outcome.Answered && outcome.Result == AnswerResult.Busy,
                });
            });
        }
    }

    /// <summary>The second line: what forbids hand motion also ends it, though the device should have stopped already.</summary>
    private void WatchHandMotion(DeviceState before, DeviceState now)
    {
        if (!_handMoves) return;
        if (now.Motion == MotionState.Still && before.Motion == MotionState.Still)
        {
            _handMoves = false;
        }
        else if (!SequenceRuns && MotionInterlocks.ReasonsAgainst(HandFacts()).Count > 0)
        {
            _handMoves = false;
            _jog = null;
            _session?.Stop(atOnce: true, _ => { });
        }
    }

    private Core.Pulls.PullSettings HandSettings => _options.HandMotion with
    {
        SpeedMillimetresPerSecond = _options.HandSpeedMaxMillimetresPerSecond,
        SlackSpeedMillimetresPerSecond = _options.HandSpeedMaxMillimetresPerSecond,
        ReturnSpeedMillimetresPerSecond = _options.HandSpeedMaxMillimetresPerSecond,
    };

    private (Core.Calibration.Fitting.ForceCurve, double)? HandForce =>
        _calibration is { } calibration && (_zeroCounts ?? _meanCounts) is { } zero ? (calibration.Curve, zero) : null;

    /// <summary>Made once and kept, so that a jog that is renewed does not send limits each time; anew after another zero or device.</summary>
    private DeviceLimits? MakeHandLimits(HelloMessage hello) => _handLimits ??= MakeHand(hello).Limits;

    private (DeviceLimits? Limits, string Words) MakeHand(HelloMessage hello) => LimitsMaker.Make(
        hello, HandSettings, HandForce, null, _options.StiffnessNewtonsPerMillimetre, _options.ConverterDelaySeconds);

    private void CheckJog()
    {
        if (_jog is { } jog && _time.GetElapsedTime(jog.HeldSince) > RigController.JogRenewal) StopJog();
        if (_handZero is { } zero && _time.GetElapsedTime(zero.Since) > HandZeroMax)
        {
            if (zero.Window is { } window) _signal.Close(window);
            _handZero = null;
            string why = zero.Reason.Length > 0 ? RigText.KeepHandsOff(zero.Reason) : RigText.NoSamplesForZero;
            zero.Done(CommandResult.Refused(why));
        }
    }

    private void StopJog()
    {
        if (_jog is null) return;
        _jog = null;
        _session?.Stop(atOnce: false, _ => { });
    }

    private void ForgetHandMotion()
    {
        _jog = null;
        _handMoves = false;
        _handLimits = null;
        _handBeyondCalibration = false;
        _acknowledged.Remove(Cautions.HandMotionScope);
        if (_handZero is not { } zero) return;
        if (zero.Window is { } window) _signal.Close(window);
        _handZero = null;
        zero.Done(CommandResult.Refused(RigText.DeviceGone));
    }

    private sealed class Jog(double speed)
    {
        public double Speed => speed;

        public long HeldSince { get; set; }
    }

    /// <summary>A zero outside of a sequence that is being looked for.</summary>
    private sealed class HandZero(long since, Action<CommandResult> done)
    {
        public long Since => since;

        public Action<CommandResult> Done => done;

        public SignalWindow? Window { get; set; }

        public int Tries { get; set; }

        /// <summary>Why the last window did not do; empty before the first.</summary>
        public string Reason { get; set; } = "";
    }
}
