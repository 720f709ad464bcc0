using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Physics;

namespace RigDaq.Virtual.Device;

/// <summary>What moves, and what stops it. Everything here follows PROTOCOL.md, 7 to 10.</summary>
internal sealed class MotionControl(DeviceContext device, Feeder feeder, ForceWatch force)
{
    /// <summary>Home is so far off the lower limit switch.</summary>
    public const double HomeBackOffMillimetres = 1;

    /// <summary>A release goes no faster.</summary>
    public const double CreepMillimetresPerSecond = 1;

    /// <summary>Releases go no further in all, until another motion.</summary>
    public const double ReleaseMillimetresMax = 5;

    private const double BackOffMillimetresPerSecond = 1;
    private const double HomeTravelShare = 1.1;
    private const double StopRampSeconds = 0.4;
    private static readonly TimeSpan StopMax = TimeSpan.FromMilliseconds(500);
    private static readonly TimeSpan ReleaseHold = TimeSpan.FromMilliseconds(300);
    private TimeSpan _beganAt;
    private TimeSpan? _stopBy;
    private TimeSpan _releaseUntil;
    private double? _releasedFrom;
    private double _beganMillimetres;
    private double _acceleration = 1;
    private int _direction;
    private bool _homeUp;
    private double _homeFrom;
    private double _homeSpeed;

    /// <summary>What it does now.</summary>
    public MotionState State { get; private set; }

    /// <summary>Whether it is letting go of what is jammed.</summary>
    public bool IsReleasing { get; private set; }

    /// <summary>In which direction the last motion went that was no release: −1 or 1, 0 for none since the start.</summary>
    public int LastDirection { get; private set; }

    private Crosshead Crosshead => device.Physics.Crosshead;

    private double StepsPerMillimetre => device.Options.StepsPerMillimetre;

    /// <summary>Begins or replaces a move. The checks were made.</summary>
    public void Move(MoveCommand command)
    {
        SetBounds(homing: false);
        _acceleration = command.AccelerationStepsPerSecondSquared / StepsPerMillimetre;
        double speed = command.SpeedStepsPerSecond / StepsPerMillimetre;
        Begin(MotionState.Moving, DirectionOf(command), command.Kind == MoveKind.Release);
        if (command.Kind == MoveKind.Release) BeginRelease(speed);
        else if (command.Kind == MoveKind.Speed) Crosshead.RunAt(speed, _acceleration);
        else Crosshead.GoTo(device.MillimetresAt(command.TargetSteps), Math.Abs(speed), _acceleration);
        EndIfStill();
    }

    /// <summary>The direction in which a move goes: −1, 0 or 1.</summary>
    public int DirectionOf(MoveCommand command) =>
        command.Kind != MoveKind.Position ? Math.Sign(command.SpeedStepsPerSecond) : Math.Sign((long)command.TargetSteps - device.StepsNow);

    /// <summary>Begins to look for home.</summary>
    public void Home(uint speedStepsPerSecond)
    {
        SetBounds(homing: true);
        double speed = speedStepsPerSecond / StepsPerMillimetre;
        _acceleration = device.Options.HardAccelerationMillimetresPerSecondSquared / 4;
        if (device.Limits is { } limits)
        {
            speed = Math.Min(speed, limits.SpeedStepsPerSecondMax / StepsPerMillimetre);
            _acceleration = Math.Min(_acceleration, limits.AccelerationStepsPerSecondSquaredMax / StepsPerMillimetre);
        }

        device.Homed = false;
        _homeUp = false;
        _homeFrom = Crosshead.PositionMillimetres;
        _homeSpeed = speed;
        Begin(MotionState.Homing, -1);
        Crosshead.RunAt(-speed, _acceleration);
    }

    /// <summary>Begins to feed.</summary>
    public void Feed()
    {
        Begin(MotionState.Feeding, 0);
        feeder.Begin();
    }

    /// <summary>Stops, by the ramp or at once. Nothing forbids it.</summary>
    public void Stop(bool atOnce)
    {
        if (State is MotionState.Moving or MotionState.Homing or MotionState.Stopping && !atOnce)
        {
            if (State != MotionState.Stopping || _stopBy is null) _stopBy = device.WallNow + StopMax;
            State = MotionState.Stopping;
            // Whatever acceleration the motion was given, the ramp is over before the stop has to be.
            Crosshead.SlowDown(Math.Max(_acceleration, Math.Abs(Crosshead.SpeedMillimetresPerSecond) / StopRampSeconds));
            EndIfStill();
        }
        else if (State != MotionState.Still)
        {
            End();
        }
    }

    /// <summary>A fault: latched, and what moves stops at once.</summary>
    public void Fault(DeviceFaults fault)
    {
        device.Latch(fault);
        if (State == MotionState.Still || (IsReleasing && fault == DeviceFaults.Converter)) return;
        // What cuts the motor's supply in motion can cost steps that were counted as made: the position is no longer known.
        if (DeviceContext.CutsPower(fault) && !device.Options.ClosedLoop) device.Homed = false;
        End();
    }

    /// <summary>A limit's switch closed though the crosshead is not there: ahead or behind, in motion that is a fault; homing looks for the
    /// lower one.</summary>
    public void LimitClosed(bool upper)
    {
        if (State is MotionState.Moving or MotionState.Stopping || (State == MotionState.Homing && (upper || _homeUp)))
            Fault(DeviceFaults.TravelLimit);
    }

    /// <summary>The mechanics went one step on.</summary>
    public void AfterStep()
    {
        switch (State)
        {
            case MotionState.Feeding when feeder.Step():
                End();
                break;
            case MotionState.Homing:
                StepHome();
                break;
            case MotionState.Moving or MotionState.Stopping when Crosshead.BoundHit != 0:
                Fault(DeviceFaults.TravelLimit);
                break;
            case MotionState.Moving or MotionState.Stopping:
                EndIfStill();
                break;
            default:
                break;
        }
    }

    /// <summary>A conversion was delivered.</summary>
    public void AfterConversion()
    {
        force.Weigh();
        if (State == MotionState.Still) return;
        // What moves may still slow down from the motion that was replaced: its own sign tells.
        int direction = Crosshead.IsMoving ? Math.Sign(Crosshead.SpeedMillimetresPerSecond) : _direction;
        if (force.IsBroken(direction) && (!IsReleasing || device.ConverterSound)) Fault(DeviceFaults.ForceLimit);
    }

    /// <summary>Wall time went on: keep-alive and the time limit.</summary>
    public void Tick()
    {
        if (!device.KeepAliveCounts)
        {
            if (State != MotionState.Still) Fault(DeviceFaults.KeepAliveLost);
            device.MotorPowered = false;
        }

        // What a person may reach into has no power, moving or not.
        if (device.Options.HasGuard && !device.GuardClosed) device.MotorPowered = false;
        if (State == MotionState.Stopping && _stopBy is { } end && device.WallNow > end) End();
        if (IsReleasing && device.WallNow > _releaseUntil) End();

        if (State != MotionState.Still && device.Limits is { } limits
            && device.WallNow - _beganAt > TimeSpan.FromMilliseconds(limits.MotionMillisecondsMax))
            Fault(DeviceFaults.TimeLimit);
    }

    /// <summary>A restart: nothing moves and nobody is told.</summary>
    public void Clear()
    {
        State = MotionState.Still;
        IsReleasing = false;
        LastDirection = 0;
        _releasedFrom = null;
        Crosshead.StopAtOnce();
    }

    private void BeginRelease(double speed)
    {
        _releaseUntil = device.WallNow + ReleaseHold;
        _releasedFrom ??= Crosshead.PositionMillimetres;
        double end = _releasedFrom.Value + (Math.Sign(speed) * ReleaseMillimetresMax);
        Crosshead.GoTo(Math.Clamp(end, Crosshead.LowerBoundMillimetres, Crosshead.UpperBoundMillimetres), Math.Abs(speed), _acceleration);
    }

    private void Begin(MotionState state, int direction, bool releases = false)
    {
        force.Begin(replaces: State != MotionState.Still);
        if (State == MotionState.Still) _beganMillimetres = Crosshead.PositionMillimetres;
        IsReleasing = releases;
        if (!releases) _releasedFrom = null;
        _stopBy = null;
        State = state;
        _direction = direction;
        _beganAt = device.WallNow;
        device.MotorPowered = true;
    }

    private void SetBounds(bool homing)
    {
        double low = 0, high = device.Options.ScrewMillimetres;
        if (!homing && device.Limits is { } limits)
        {
            low = Math.Max(low, device.MillimetresAt(limits.TravelStepsMin));
            high = Math.Min(high, device.MillimetresAt(limits.TravelStepsMax));
        }

        Crosshead.LowerBoundMillimetres = low;
        Crosshead.UpperBoundMillimetres = high;
    }

    private void StepHome()
    {
        if (!_homeUp && device.LowerLimitReached)
        {
            _homeUp = true;
            _direction = 1;
            Crosshead.GoTo(HomeBackOffMillimetres, Math.Min(_homeSpeed, BackOffMillimetresPerSecond), _acceleration);
        }
        else if (_homeUp && !Crosshead.IsMoving && device.LowerLimitReached)
        {
            Fault(DeviceFaults.TravelLimit); // It does not open: a cut wire reads as reached for ever.
        }
        else if (_homeUp && !Crosshead.IsMoving)
        {
            device.BeforePositionJumps();
            int off = device.StepsNow;
            device.ZeroMillimetres = Crosshead.PositionMillimetres;
            device.Homed = true;
            device.Tell(DeviceEventCode.Homed, off);
            End();
        }
        else if (!_homeUp && _homeFrom - Crosshead.PositionMillimetres > HomeTravelShare * device.Options.ScrewMillimetres)
        {
            Fault(DeviceFaults.TravelLimit);
        }
    }

    private void EndIfStill()
    {
        if (!Crosshead.IsMoving) End();
    }

    private void End()
    {
        int direction = Crosshead.IsMoving ? Math.Sign(Crosshead.SpeedMillimetresPerSecond) : _direction;
        if (!IsReleasing && direction != 0 && Crosshead.PositionMillimetres != _beganMillimetres) LastDirection = direction;
        IsReleasing = false;
        Crosshead.StopAtOnce();
        State = MotionState.Still;
        device.Tell(DeviceEventCode.MotionEnded, device.StepsNow);
    }
}
