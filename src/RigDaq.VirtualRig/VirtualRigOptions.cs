using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual;

/// <summary>What a virtual rig is made of. The defaults are a plausible self-built rig with a 100 kg cell.</summary>
public sealed record VirtualRigOptions
{
    /// <summary>The slowest converter, in samples a second.</summary>
    public const double SampleRateHertzMin = 10;

    /// <summary>The fastest converter, in samples a second.</summary>
    public const double SampleRateHertzMax = 10_000;

    /// <summary>How far the rig's clock may be sped up.</summary>
    public const double TimeScaleMax = 200;

    /// <summary>How far the rig's clock may be slowed down.</summary>
    public const double TimeScaleMin = 0.01;

    /// <summary>What everything random is drawn from: the same seed gives the same counts.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>The rig's clock runs so many times faster than the wall's. Safety timers and the keep-alive stay in wall time.</summary>
    public double TimeScale { get; init; } = 1;

    /// <summary>Whether rig time passes only by <see cref="Machine.VirtualRig.Advance"/> (for tests). Wall time then is rig time over
    /// <see cref="TimeScale"/>, and nothing runs by itself.</summary>
    public bool Stepped { get; init; }

    /// <summary>Which device this is.</summary>
    public ulong DeviceId { get; init; } = 0x5157_0000_0000_0001;

    /// <summary>A name for people, at most 32 bytes of UTF-8.</summary>
    public string DeviceName { get; init; } = "Virtual rig";

    /// <summary>The firmware's version, for people.</summary>
    public ushort FirmwareVersion { get; init; } = 100;

    /// <summary>Whether a feeder puts specimens in.</summary>
    public bool HasFeeder { get; init; } = true;

    /// <summary>Whether there is a guard with an input.</summary>
    public bool HasGuard { get; init; } = true;

    /// <summary>Whether the device can find a home position.</summary>
    public bool HasHoming { get; init; } = true;

    /// <summary>Whether the drive keeps its position over a cut of its power (an encoder on the screw): then no fault costs it its
    /// home.</summary>
    public bool ClosedLoop { get; init; }

    /// <summary>Whether the sample rate can be set over the wire.</summary>
    public bool HasSelectableRate { get; init; } = true;

    /// <summary>Whether the rig moves at all, or is a bare load cell.</summary>
    public bool HasMotion { get; init; } = true;

    /// <summary>Conversions a second, 10 to 10,000.</summary>
    public double SampleRateHertz { get; init; } = 320;

    /// <summary>The width of a conversion, 8 to 24 bits.</summary>
    public int ConverterBits { get; init; } = 24;

    /// <summary>How long before its stamp a conversion looked at the force, on average, in seconds, 0 to 0.1. A conversion is the mean of
    /// the force over twice this, as of a converter that integrates (half a period is usual there); 0 looks at one moment.</summary>
    public double ConverterDelaySeconds { get; init; }

    /// <summary>How far the device's clock is off, in parts per million, −10,000 to 10,000.</summary>
    public double ClockErrorPartsPerMillion { get; init; } = 20;

    /// <summary>The converter's noise, as a standard deviation in counts.</summary>
    public double NoiseCounts { get; init; } = 120;

    /// <summary>The amplitude of the mains hum, in counts.</summary>
    public double HumCounts { get; init; } = 20;

    /// <summary>The mains frequency, in hertz.</summary>
    public double HumHertz { get; init; } = 50;

    /// <summary>Where in its period the hum begins.</summary>
    public double HumPhaseRadians { get; init; } = 0.4;

    /// <summary>How far the cell creeps in the long run, in per cent of the force.</summary>
    public double CreepPercent { get; init; } = 0.02;

    /// <summary>The creep's time constant, in seconds.</summary>
    public double CreepSeconds { get; init; } = 60;

    /// <summary>How far the zero wanders, in counts an hour of rig time.</summary>
    public double DriftCountsPerHour { get; init; } = 300;

    /// <summary>The step of the counts, 1 or more: coarser than one where the low bits are always zero.</summary>
    public double QuantisationCounts { get; init; } = 1;

    /// <summary>The cell's deviation from the line through zero and capacity, at half capacity, in per cent of capacity.</summary>
    public double NonLinearityPercentOfCapacity { get; init; } = 0.005;

    /// <summary>Newtons per count, above 0.</summary>
    public double NewtonsPerCount { get; init; } = 2.5e-4;

    /// <summary>Whether the cell's wires are swapped, so that tension lowers the counts: a rig that must not be pulled with.</summary>
    public bool IsCellWiredBackwards { get; init; }

    /// <summary>The counts without any force.</summary>
    public double ZeroCounts { get; init; } = 41_830;

    /// <summary>What the cell is made for, in newtons.</summary>
    public double CellCapacityNewtons { get; init; } = 1000;

    /// <summary>The cell's own stiffness, in N/mm.</summary>
    public double CellStiffnessNewtonsPerMillimetre { get; init; } = 4000;

    /// <summary>The frame's stiffness, crosshead, screws and grips included, in N/mm.</summary>
    public double FrameStiffnessNewtonsPerMillimetre { get; init; } = 2500;

    /// <summary>How much of a force that is let go at once comes back as ringing, 0 to 1.</summary>
    public double RingShare { get; init; } = 0.02;

    /// <summary>The load train's own frequency, in hertz.</summary>
    public double RingHertz { get; init; } = 170;

    /// <summary>How fast the ringing dies away, in seconds.</summary>
    public double RingDecaySeconds { get; init; } = 0.012;

    /// <summary>How much a mass that was just hung on swings, as a share of its force, 0 to 1.</summary>
    public double SwingShare { get; init; } = 0.02;

    /// <summary>The pendulum's frequency, in hertz; the force varies at twice this.</summary>
    public double SwingHertz { get; init; } = 0.9;

    /// <summary>How fast the swing dies away, in seconds.</summary>
    public double SwingDecaySeconds { get; init; } = 1.2;

    /// <summary>The force that closing the second grip puts on a specimen, in newtons; each one differs by up to half of it.</summary>
    public double ClampNewtons { get; init; } = 0.6;

    /// <summary>How long the feeder takes, in seconds of rig time.</summary>
    public double FeedSeconds { get; init; } = 3;

    /// <summary>Steps in a millimetre of travel, above 0.</summary>
    public double StepsPerMillimetre { get; init; } = 1600;

    /// <summary>How long the screw is, from its lower limit switch to its upper one, in mm.</summary>
    public double ScrewMillimetres { get; init; } = 150;

    /// <summary>Where the crosshead stands at the beginning, from the lower limit switch, in mm.</summary>
    public double StartMillimetres { get; init; } = 30;

    /// <summary>The greatest force that the device ever allows, either way, as a share of the cell's capacity.</summary>
    public double HardForceShare { get; init; } = 1.2;

    /// <summary>The greatest speed that the device ever allows, in mm/s.</summary>
    public double HardSpeedMillimetresPerSecond { get; init; } = 20;

    /// <summary>The greatest acceleration that the device ever allows, in mm/s².</summary>
    public double HardAccelerationMillimetresPerSecondSquared { get; init; } = 200;

    /// <summary>Channels besides the force, at most <see cref="HelloMessage.ChannelsMax"/>.</summary>
    public IReadOnlyList<VirtualChannel> Channels { get; init; } = [];

    /// <summary>Whether it keeps from the host that it is virtual, so that every interlock of a real rig holds: for the simulated night
    /// only.</summary>
    internal bool PosesAsReal { get; init; }

    /// <summary>What the line carries, in bytes a second of wall time (baud over ten); 0 for as much as comes.</summary>
    public int LineBytesPerSecond { get; init; }

    /// <summary>The capabilities that the hello tells.</summary>
    public Capabilities Capabilities => (PosesAsReal ? 0 : Capabilities.Simulated) | Capabilities.EmergencyStop | (HasMotion
        ? Capabilities.Motion | Capabilities.Position | Capabilities.TravelLimits | Capabilities.Release : 0) | (HasMotion && HasHoming
        ? Capabilities.Homing : 0) | (HasMotion && HasFeeder ? Capabilities.Feeder : 0) | (HasGuard ? Capabilities.Guard
        : 0) | (HasSelectableRate ? Capabilities.RateSelectable : 0) | (Channels.Count > 0 ? Capabilities.Channels : 0);

    /// <summary>Says what is wrong with the figures.</summary>
    /// <exception cref="ArgumentException">A figure is outside its range; the message names it.</exception>
    public void Validate()
    {
        Between(TimeScale, TimeScaleMin, TimeScaleMax, nameof(TimeScale));
        Between(SampleRateHertz, SampleRateHertzMin, SampleRateHertzMax, nameof(SampleRateHertz));
        Between(ConverterBits, 8, 24, nameof(ConverterBits));
        Between(ZeroCounts, -(1 << (ConverterBits - 1)) + 1.0, (1 << (ConverterBits - 1)) - 2.0, nameof(ZeroCounts));
        Between(ConverterDelaySeconds, 0, 0.1, nameof(ConverterDelaySeconds));
        Between(ClockErrorPartsPerMillion, -10_000, 10_000, nameof(ClockErrorPartsPerMillion));
        Between(NoiseCounts, 0, 1e6, nameof(NoiseCounts));
        Between(HumCounts, 0, 1e6, nameof(HumCounts));
        Between(CreepPercent, -5, 5, nameof(CreepPercent));
        Between(CreepSeconds, 0.01, 1e5, nameof(CreepSeconds));
        Between(QuantisationCounts, 1, 1 << 20, nameof(QuantisationCounts));
        Between(NonLinearityPercentOfCapacity, -5, 5, nameof(NonLinearityPercentOfCapacity));
        Between(NewtonsPerCount, 1e-12, 1e3, nameof(NewtonsPerCount));
        Between(CellCapacityNewtons, 0.01, 1e6, nameof(CellCapacityNewtons));
        Between(CellStiffnessNewtonsPerMillimetre, 0.01, 1e9, nameof(CellStiffnessNewtonsPerMillimetre));
        Between(FrameStiffnessNewtonsPerMillimetre, 0.01, 1e9, nameof(FrameStiffnessNewtonsPerMillimetre));
        Between(RingShare, 0, 1, nameof(RingShare));
        Between(RingHertz, 1, 1e5, nameof(RingHertz));
        Between(RingDecaySeconds, 1e-5, 10, nameof(RingDecaySeconds));
        Between(SwingShare, 0, 1, nameof(SwingShare));
        Between(SwingDecaySeconds, 0.01, 1000, nameof(SwingDecaySeconds));
        Between(ClampNewtons, 0, 1000, nameof(ClampNewtons));
        Between(FeedSeconds, 0.01, 60, nameof(FeedSeconds));
        Between(StepsPerMillimetre, 0.1, 1e6, nameof(StepsPerMillimetre));
        Between(ScrewMillimetres, 1, 2000, nameof(ScrewMillimetres));
        Between(StartMillimetres, 0, ScrewMillimetres, nameof(StartMillimetres));
        Between(HardForceShare, 0.01, 10, nameof(HardForceShare));
        Between(HardSpeedMillimetresPerSecond, 0.001, 1000, nameof(HardSpeedMillimetresPerSecond));
        Between(HardAccelerationMillimetresPerSecondSquared, 0.01, 1e5, nameof(HardAccelerationMillimetresPerSecondSquared));
        Between(LineBytesPerSecond, 0, 100_000_000, nameof(LineBytesPerSecond));
        Between(Channels.Count, 0, HelloMessage.ChannelsMax, nameof(Channels));
        foreach (VirtualChannel channel in Channels)
        {
            Between(channel.Divider, 1, ushort.MaxValue, nameof(channel.Divider));
            Between(channel.RawPerUnit, 1, 1 << 23, nameof(channel.RawPerUnit));
            Between(channel.Zero, -(1 << 22), 1 << 22, nameof(channel.Zero));
            Between(channel.Noise, 0, 1000, nameof(channel.Noise));
            Between(channel.Range * channel.RawPerUnit, 2, (1 << 23) - 1 - Math.Abs(channel.Zero), nameof(channel.Range));
            Between(channel.GaugeShare, 0.001, 1, nameof(channel.GaugeShare));
            Between((int)channel.Kind, (int)ChannelKind.Force, (int)ChannelKind.Temperature, nameof(channel.Kind));
        }
    }

    private static void Between(double value, double low, double high, string name)
    {
        if (!(value >= low && value <= high))
            throw new ArgumentException($"Virtual rig: {name} has to be {low} to {high}, not {value}.", name);
    }
}
