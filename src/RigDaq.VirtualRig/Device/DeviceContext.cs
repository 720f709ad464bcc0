using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Physics;

namespace RigDaq.Virtual.Device;

/// <summary>What the parts of the device know in common: the registers of its firmware, so to speak.</summary>
internal sealed class DeviceContext(VirtualRigOptions options, RigPhysics physics, EventLog events)
{
    /// <summary>How long a keep-alive counts, in wall time (PROTOCOL.md, 7).</summary>
    public static readonly TimeSpan KeepAliveSpan = TimeSpan.FromMilliseconds(500);

    private ushort? _keepAliveCounter;
    private TimeSpan? _keepAliveAt;

    public VirtualRigOptions Options => options;

    public RigPhysics Physics => physics;

    /// <summary>Wall time since the beginning: what safety timers run on.</summary>
    public TimeSpan WallNow { get; set; }

    /// <summary>Rig time at the last start.</summary>
    public double StartedAtSeconds { get; private set; }

    public uint BootNumber { get; private set; }
    public SetLimitsCommand? Limits { get; set; }
    public DeviceFaults Faults { get; private set; }
    public bool MotorPowered { get; set; }
    public bool Homed { get; set; }

    /// <summary>Where the position counts from, in mm from the lower limit switch.</summary>
    public double ZeroMillimetres { get; set; }

    public bool GuardClosed { get; set; } = true;
    public bool EmergencyStopReleased { get; set; } = true;
    public bool DriverFaulty { get; set; }
    public bool ConverterAlive { get; set; } = true;

    /// <summary>Whether what the converter gives can be true.</summary>
    public bool ConverterSound { get; set; } = true;

    /// <summary>The last conversion that was delivered.</summary>
    public int LatestCounts { get; private set; }

    /// <summary>The conversion before it; 0 at the first.</summary>
    public int CountsBefore { get; private set; }

    public bool StreamOn { get; set; }

    public uint StampNow => StampAt(physics.RigSeconds);

    public int StepsNow => StepsAt(physics.Crosshead.PositionMillimetres);

    public bool KeepAliveCounts => WallNow - _keepAliveAt < KeepAliveSpan;

    /// <summary>Whether something else than the crosshead presses the lower limit's switch: a hand, a cut wire.</summary>
    public bool LowerLimitHeld { get; set; }

    /// <summary>The same of the upper one.</summary>
    public bool UpperLimitHeld { get; set; }

    public bool LowerLimitReached => LowerLimitHeld || physics.Crosshead.PositionMillimetres <= 0;

    public bool UpperLimitReached => UpperLimitHeld || physics.Crosshead.PositionMillimetres >= options.ScrewMillimetres;

    public int HardTravelStepsMin => (int)Math.Ceiling(-0.5 * MotionControl.HomeBackOffMillimetres * options.StepsPerMillimetre);

    public int HardTravelStepsMax =>
        (int)Math.Floor((options.ScrewMillimetres - (1.5 * MotionControl.HomeBackOffMillimetres)) * options.StepsPerMillimetre);

    public uint StampAt(double rigSeconds) =>
        unchecked((uint)(long)((rigSeconds - StartedAtSeconds) * (1 + (options.ClockErrorPartsPerMillion * 1e-6)) * 1e6));

    public int StepsAt(double millimetres) => (int)Math.Round((millimetres - ZeroMillimetres) * options.StepsPerMillimetre);

    public double MillimetresAt(int steps) => ZeroMillimetres + (steps / options.StepsPerMillimetre);

    /// <summary>The position is about to count from elsewhere: what was sampled before goes out under the old state.</summary>
    public Action BeforePositionJumps { get; set; } = () => { };

    /// <summary>A conversion was delivered.</summary>
    public void TakeConversion(int counts)
    {
        ConverterAlive = true;
        (CountsBefore, LatestCounts) = (LatestCounts, counts);
    }

    public void Tell(DeviceEventCode code, int detail = 0) => events.Add(code, StampNow, detail);

    /// <summary>Whether a fault takes the power off the motor.</summary>
    public static bool CutsPower(DeviceFaults fault) => (fault & (DeviceFaults.KeepAliveLost | DeviceFaults.GuardOpened
        | DeviceFaults.EmergencyStop | DeviceFaults.Driver | DeviceFaults.Watchdog)) != 0;

    /// <summary>Latches a fault; the caller stops what moves.</summary>
    public void Latch(DeviceFaults fault)
    {
        if (CutsPower(fault)) MotorPowered = false;
        if ((Faults & fault) != 0) return;
        Faults |= fault;
        Tell(DeviceEventCode.FaultRaised, (int)fault);
    }

    /// <summary>Clears the faults whose cause is gone (PROTOCOL.md, 10); the caller made sure that nothing moves.</summary>
    public void Clear(DeviceFaults faults, bool converterSound)
    {
        DeviceFaults stays = DeviceFaults.None;
        if (!KeepAliveCounts) stays |= DeviceFaults.KeepAliveLost;
        if (options.HasGuard && !GuardClosed) stays |= DeviceFaults.GuardOpened;
        if (!EmergencyStopReleased) stays |= DeviceFaults.EmergencyStop;
        if (!converterSound) stays |= DeviceFaults.Converter;
        if (DriverFaulty) stays |= DeviceFaults.Driver;
        Faults &= ~(faults & ~stays);
    }

    /// <summary>Counts as life when it is meant for this start and is newer than the last one that counted; after a silence any other
    /// counter will do, for a host that began anew.</summary>
    public void TakeKeepAlive(KeepAliveMessage message)
    {
        if (message.BootNumber != BootNumber) return;
        if (_keepAliveCounter is { } last)
        {
            var newer = unchecked((short)(message.Counter - last));
            if (newer == 0 || (newer < 0 && KeepAliveCounts)) return;
        }

        _keepAliveCounter = message.Counter;
        _keepAliveAt = WallNow;
    }

    /// <summary>Everything as after a start; what the world is like stays.</summary>
    public void Start(uint bootNumber, DeviceFaults faults)
    {
        BootNumber = bootNumber;
        StartedAtSeconds = physics.RigSeconds;
        ZeroMillimetres = physics.Crosshead.PositionMillimetres;
        Limits = null;
        MotorPowered = false;
        Homed = false;
        StreamOn = false;
        ConverterAlive = true;
        CountsBefore = LatestCounts = 0;
        _keepAliveCounter = null;
        _keepAliveAt = null;
        Faults = faults | (EmergencyStopReleased ? DeviceFaults.None : DeviceFaults.EmergencyStop);
        Tell(DeviceEventCode.Started, (int)Faults);
    }
}
