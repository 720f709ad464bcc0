using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>Motion by hand: jogging, homing, moving to a place. While only such faults stand as jam a rig, the held jog lets go of what is
/// jammed (PROTOCOL.md, 9, release).</summary>
internal sealed class HandMotion(LoopContext loop, DeviceView device, ZeroAndLimits zero, MotionConditions conditions,
    SequenceRunner sequence)
{
    /// <summary>Before a device that can home has homed, a jog goes no faster, in mm/s: nobody knows yet how far the end is.</summary>
    public const double UnhomedJogMillimetresPerSecondMax = 2;

    /// <summary>A release goes no faster; the device holds it to that, and to 5 mm in all.</summary>
    public const double ReleaseMillimetresPerSecondMax = 1;

    /// <summary>Under these a rig stands jammed and must be able to let go.</summary>
    private const DeviceFaults ToRelease =
        DeviceFaults.ForceLimit | DeviceFaults.TravelLimit | DeviceFaults.TimeLimit | DeviceFaults.Converter;

    private Jog? _jog;
    private bool _moves;

    /// <summary>Whether a held jog is a release now: a fault stands that forbids other motion, and none that forbids this one.</summary>
    public bool CanRelease => !sequence.Runs && device.Session is { StateKnown: true, Hello: { } hello, LimitsInForce: not null } session
        && hello.Capabilities.HasFlag(Capabilities.Release)
        && session.State.Faults != DeviceFaults.None && (session.State.Faults & ~ToRelease) == DeviceFaults.None
        && MotionInterlocks.ReasonsAgainst(ReleaseFacts() with { CautionsAcknowledged = true }).Count == 0;

    /// <summary>Moves while it is held.</summary>
    public void JogBy(double speedMillimetresPerSecond, Action<CommandResult> done)
    {
        if (speedMillimetresPerSecond == 0)
        {
            StopJog();
            done(CommandResult.Ok(RigText.CrossheadStops));
            return;
        }

        if (!double.IsFinite(speedMillimetresPerSecond) || Math.Abs(speedMillimetresPerSecond) > SpeedMax)
        {
            done(CommandResult.Refused(RigText.JogTooFast(SpeedMax)));
            return;
        }

        if (CanRelease)
        {
            ReleaseBy(speedMillimetresPerSecond, done);
            return;
        }

        if (_jog is { } jog && jog.Speed.Equals(speedMillimetresPerSecond))
        {
            jog.HeldSince = loop.Time.GetTimestamp();
            done(CommandResult.Ok(RigText.CrossheadMoves));
            return;
        }

        var next = new Jog(speedMillimetresPerSecond) { HeldSince = loop.Time.GetTimestamp() };
        _jog = next;
        Begin(RigText.CrossheadMoves, done, (session, limits, answered) =>
        {
            // It may have been let go while the limits were on their way.
            if (_jog != next)
            {
                answered(CommandOutcome.NotSent(RigText.LetGo));
                return;
            }

            bool isHomed = session.State.Flags.HasFlag(StateBits.Homed);
            bool isLost = session.Hello?.Capabilities.HasFlag(Capabilities.Homing) == true && !isHomed;
            double most = isLost ? Math.Min(limits.SpeedStepsPerSecondMax, UnhomedJogMillimetresPerSecondMax * Steps)
                : limits.SpeedStepsPerSecondMax;
            int speed = (int)Math.Clamp(Math.Round(speedMillimetresPerSecond * Steps), -most, most);
            // To the end of the travel rather than on and on, where the position is known: arriving is no fault.
            session.Move(isHomed ? MoveKind.Position : MoveKind.Speed, isHomed ? Math.Abs(speed) : speed, Acceleration(limits),
                speed > 0 ? limits.TravelStepsMax : limits.TravelStepsMin, answered);
        });
    }

    /// <summary>Finds home.</summary>
    public void Home(Action<CommandResult> done)
    {
        StopJog();
        if (device.Hello is { } hello && !hello.Capabilities.HasFlag(Capabilities.Homing))
        {
            done(CommandResult.Refused(RigText.CannotHome));
            return;
        }

        Begin(RigText.CrossheadLooksForHome, done, (session, limits, answered) =>
            session.Home((uint)Math.Clamp(SpeedMax * Steps, 1, limits.SpeedStepsPerSecondMax), answered));
    }

    /// <summary>Moves to a distance between the grips.</summary>
    public void MoveToSeparation(double millimetres, Action<CommandResult> done)
    {
        StopJog();
        double atHome = loop.Options.GripSeparationAtHomeMillimetres, position = millimetres - atHome;
        if (!double.IsFinite(position) || device.Hello is not { } hello || device.StepsPerMillimetre is not { } steps)
        {
            done(CommandResult.Refused(RigText.PositionNotKnown));
            return;
        }

        if (position * steps < hello.HardTravelStepsMin || position * steps > hello.HardTravelStepsMax)
        {
            done(CommandResult.Refused(RigText.SeparationOutside(atHome + (hello.HardTravelStepsMin / steps),
                atHome + (hello.HardTravelStepsMax / steps), millimetres)));
            return;
        }

        GoTo(position, SpeedMax, done);
    }

    /// <summary>Moves to a position, from standstill or in place of such a motion.</summary>
    public void MoveTo(double positionMillimetres, double speedMillimetresPerSecond, Action<CommandResult> done)
    {
        StopJog();
        if (device.StepsPerMillimetre is not { } steps || !(Math.Abs(positionMillimetres * steps) < int.MaxValue))
        {
            done(CommandResult.Refused(RigText.PositionNotKnown));
            return;
        }

        if (!(speedMillimetresPerSecond > 0 && speedMillimetresPerSecond <= SpeedMax))
        {
            done(CommandResult.Refused(RigText.JogTooFast(SpeedMax)));
            return;
        }

        GoTo(positionMillimetres, speedMillimetresPerSecond, done);
    }

    /// <summary>Hand motion goes under these limits from now on.</summary>
    public CommandResult Set(PullSettings settings, double speedMaxMillimetresPerSecond)
    {
        loop.Options = loop.Options with { HandMotion = settings, HandSpeedMaxMillimetresPerSecond = speedMaxMillimetresPerSecond };
        // Limits were made for those before.
        zero.ForgetLimitsOfHand();
        loop.PublishSoon();
        return CommandResult.Ok(RigText.HandLimitsSet);
    }

    /// <summary>Clears the faults whose cause is gone.</summary>
    public void ClearFaults(Action<CommandResult> done)
    {
        if (device.Session is not { StateKnown: true } session)
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

    /// <summary>The second line: what forbids hand motion also ends it, though the device should have stopped already.</summary>
    public void Watch(DeviceState before, DeviceState now)
    {
        if (!_moves) return;
        if (now.Motion == MotionState.Still && before.Motion == MotionState.Still)
        {
            _moves = false;
        }
        else if (!sequence.Runs && MotionInterlocks.ReasonsAgainst(conditions.OfHand()).Count > 0)
        {
            _moves = false;
            _jog = null;
            device.Session?.Stop(atOnce: true, _ => { });
        }
    }

    /// <summary>Stops a jog that is no longer held.</summary>
    public void Tick()
    {
        if (_jog is { } jog && loop.Time.GetElapsedTime(jog.HeldSince) > RigController.JogRenewal) StopJog();
    }

    /// <summary>A held jog ends.</summary>
    public void StopJog()
    {
        if (_jog is null) return;
        _jog = null;
        device.Session?.Stop(atOnce: false, _ => { });
    }

    /// <summary>A held jog counts no more; whatever stops the crosshead is sent elsewhere.</summary>
    public void ForgetJog() => _jog = null;

    /// <summary>The device is gone or another start: nothing of before holds.</summary>
    public void Forget()
    {
        _jog = null;
        _moves = false;
        zero.ForgetLimitsOfHand();
        conditions.ForgetHandMotion();
    }

    private double SpeedMax => loop.Options.HandSpeedMaxMillimetresPerSecond;

    private double Steps => device.StepsPerMillimetre ?? 1;

    private uint Acceleration(DeviceLimits limits) =>
        limits.Acceleration(loop.Options.HandMotion.AccelerationMillimetresPerSecondSquared * Steps);

    private void GoTo(double millimetres, double speedMillimetresPerSecond, Action<CommandResult> done) =>
        Begin(RigText.CrossheadMoves, done, (session, limits, answered) => session.Move(
            MoveKind.Position,
            (int)Math.Clamp(speedMillimetresPerSecond * Steps, 1, limits.SpeedStepsPerSecondMax),
            Acceleration(limits),
            (int)Math.Round(millimetres * Steps),
            answered));

    /// <summary>Every motion by hand: interlocks, limits, interlocks once more, then the motion.</summary>
    private void Begin(Sentence moves, Action<CommandResult> done, Action<IDeviceSession, DeviceLimits, Action<CommandOutcome>> send)
    {
        if (sequence.Runs)
        {
            Refuse(RigText.SequenceIsRunning);
            return;
        }

        IReadOnlyList<Sentence> reasons = MotionInterlocks.ReasonsAgainst(conditions.OfHand() with { LimitsConfirmed = true });
        if (reasons.Count > 0 || device.Session is not { Hello: { } hello } session)
        {
            Refuse(reasons.Count > 0 ? reasons : [RigText.DeviceNotConnected]);
            return;
        }

        (DeviceLimits? made, Sentence problem) = zero.MakeOfHand(hello);
        if (made is not { } limits)
        {
            Refuse(problem);
            return;
        }

        sequence.Raise(new HandMoved());
        if (session.LimitsInForce == limits) Send(null);
        else session.SetLimits(limits, Send);

        void Send(Sentence? refused)
        {
            IReadOnlyList<Sentence> now = MotionInterlocks.ReasonsAgainst(conditions.OfHand());
            if (refused is not null || now.Count > 0 || sequence.Runs)
            {
                Refuse(refused is not null ? [refused] : now.Count > 0 ? now : [RigText.SequenceIsRunning]);
                return;
            }

            device.Link.KeepAlive();
            send(session, limits, outcome =>
            {
                if (outcome.Done) _moves = true;
                else _jog = null;
                done(outcome.Done ? CommandResult.Ok(moves) : CommandResult.Refused(RigText.CrossheadDoesNotMove(outcome.Words)) with
                {
                    IsPassing = outcome.Answered && outcome.Result == AnswerResult.Busy,
                });
            });
        }

        void Refuse(params IReadOnlyList<Sentence> why)
        {
            _jog = null;
            done(CommandResult.Refused(why));
        }
    }

    /// <summary>All that stands against hand motion, but for the faults and the converter that a release is for.</summary>
    private InterlockFacts ReleaseFacts() => conditions.OfHand() with
    {
        ConverterAlive = true,
        FaultWords = [],
        LimitsConfirmed = true,
        CalibrationInForce = true,
        CalibrationCoversForceLimit = true,
    };

    /// <summary>The device ends a release 300 ms after it was last asked for: each renewal asks again, under the limits that are in
    /// force.</summary>
    private void ReleaseBy(double speedMillimetresPerSecond, Action<CommandResult> done)
    {
        if (MotionInterlocks.ReasonsAgainst(ReleaseFacts()) is { Count: > 0 } reasons)
        {
            done(CommandResult.Refused(reasons));
            return;
        }

        IDeviceSession session = device.Session!;
        _moves = false; // The faults that end other hand motion are what this one is for.
        _jog = new Jog(speedMillimetresPerSecond) { HeldSince = loop.Time.GetTimestamp() };
        double speed = Math.Min(Math.Abs(speedMillimetresPerSecond), ReleaseMillimetresPerSecondMax);
        int signed = Math.Max(1, (int)Math.Floor(speed * Steps)) * Math.Sign(speedMillimetresPerSecond);
        device.Link.KeepAlive();
        session.Move(MoveKind.Release, signed, Acceleration(session.LimitsInForce!), 0, outcome =>
        {
            // Busy: the one before ends just now.
            bool letsGo = outcome.Done || outcome.Result == AnswerResult.Busy;
            if (!letsGo) _jog = null;
            done(letsGo ? CommandResult.Ok(RigText.ItLetsGo) : CommandResult.Refused(RigText.ItDoesNotLetGo(outcome.Words)));
        });
    }

    private sealed class Jog(double speed)
    {
        public double Speed => speed;

        public long HeldSince { get; set; }
    }
}
