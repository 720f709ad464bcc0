using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>How the link stands.</summary>
public enum LinkStage
{
    /// <summary>Not started, or ended for good.</summary>
    Closed,

    /// <summary>Being opened, or waiting to be opened again.</summary>
    Opening,

    /// <summary>Open; the device has not said hello yet.</summary>
    Greeting,

    /// <summary>The device is known and tells its state.</summary>
    Up,
}

/// <summary>All that can be seen of a rig at one instant. Immutable.</summary>
public sealed record RigSnapshot
{
    /// <summary>Before anything is known.</summary>
    public static RigSnapshot Nothing { get; } = new();

    /// <summary>Counts snapshots of this controller.</summary>
    public long Number { get; init; }

    /// <summary>How the link stands.</summary>
    public LinkStage Link { get; init; }

    /// <summary>In words: what it is connected to, or why it is not and what to do.</summary>
    public Sentence LinkMessage { get; init; } = Sentence.None;

    /// <summary>The device; null while none is known. It stays while the link is lost.</summary>
    public RigDevice? Device { get; init; }

    /// <summary>What the device can do and its hard limits; null while none is known.</summary>
    public HelloMessage? Hello { get; init; }

    /// <summary>Why the device started, as it told; none where it does not say, or told an earlier host.</summary>
    public StartCauses StartedBecause { get; init; }

    /// <summary>The same in words, with what to look at; empty where it is not known.</summary>
    public Sentence StartedBecauseWords { get; init; } = Sentence.None;

    /// <summary>The inputs.</summary>
    public InputStates Inputs { get; init; }

    /// <summary>What the crosshead does.</summary>
    public MotionState Motion { get; init; }

    /// <summary>Further bits of the state: homed, motor powered, blocks dropped.</summary>
    public StateBits Bits { get; init; }

    /// <summary>The latched faults.</summary>
    public DeviceFaults Faults { get; init; }

    /// <summary>The latched faults in words, each with what to do.</summary>
    public IReadOnlyList<Sentence> FaultWords { get; init; } = [];

    /// <summary>Why nothing may be pulled now, in words; empty where it may: the crosshead may then move, or, on a device that only
    /// measures, a person may turn the handle.</summary>
    public IReadOnlyList<Sentence> ReasonsAgainstMotion { get; init; } = [];

    /// <summary>The same for jogging, homing and moving by hand, but for the cautions: whoever shows the reasons asks for those where it
    /// moves.</summary>
    public IReadOnlyList<Sentence> ReasonsAgainstHandMotion { get; init; } = [];

    /// <summary>The crosshead's position in mm from home; null where it is not known.</summary>
    public double? PositionMillimetres { get; init; }

    /// <summary>The distance between the grips in mm; null where it is not known.</summary>
    public double? GripSeparationMillimetres { get; init; }

    /// <summary>The force now in newtons above zero (mean of the last block); null without a calibration or a zero.</summary>
    public double? ForceNewtons { get; init; }

    /// <summary>The converter's counts now (mean of the last block); null before any.</summary>
    public double? Counts { get; init; }

    /// <summary>The zero in counts; null before any was taken.</summary>
    public double? ZeroCounts { get; init; }

    /// <summary>The calibration in force; null where there is none.</summary>
    public CalibrationRecord? Calibration { get; init; }

    /// <summary>Samples a second by the device's own clock; null before any.</summary>
    public double? SampleRateHertz { get; init; }

    /// <summary>Samples lost since the device's start, by their numbers.</summary>
    public long SamplesLost { get; init; }

    /// <summary>Events that had no room in the device since its start.</summary>
    public long EventsLost { get; init; }

    /// <summary>Samples received since the device's start.</summary>
    public long SamplesReceived { get; init; }

    /// <summary>Frames that arrived damaged on this link.</summary>
    public long FramesBad { get; init; }

    /// <summary>What the link has to tell beyond its bytes: lines that were dropped, how well stamps made here are known.</summary>
    public LinkNews LinkNews { get; init; } = LinkNews.None;

    /// <summary>What is measured besides the force, and what it is now.</summary>
    public IReadOnlyList<ChannelNow> Channels { get; init; } = [];

    /// <summary>How often the link was lost.</summary>
    public long LinksLost { get; init; }

    /// <summary>How often the device restarted while it was known.</summary>
    public long DeviceRestarts { get; init; }

    /// <summary>The longest time between two keep-alives of the open link; null before the second. A device stops at 500 ms
    /// (PROTOCOL.md).</summary>
    public TimeSpan? KeepAliveGapMax { get; init; }

    /// <summary>Things and frames that waited for the control loop.</summary>
    public int InboxWaiting { get; init; }

    /// <summary>Live blocks that slow consumers lost, all together.</summary>
    public long LiveBlocksDropped { get; init; }

    /// <summary>From the arrival of the sample that decided the last break to the stop command on the line, in wall time; null before
    /// any.</summary>
    public TimeSpan? StopLatency { get; init; }

    /// <summary>From when that sample was taken (device stamp mapped to the host's clock) to the stop command on the line; what the
    /// promptest packet takes on the way is not in it. Null before any.</summary>
    public TimeSpan? SampleToStop { get; init; }

    /// <summary>How old the newest sample is, by the same line; null before any.</summary>
    public TimeSpan? SampleAge { get; init; }

    /// <summary>By how much the device's clock runs slower than the host's, in parts per million; 0 until it is known.</summary>
    public double? ClockDeviationPartsPerMillion { get; init; }

    /// <summary>The last test of the emergency stop that is known of this device; null before any.</summary>
    public Core.Safety.EmergencyStopTest? EmergencyStopTest { get; init; }

    /// <summary>Whether the emergency stop is to be tested before a sequence may start: once a day, where a motor is real.</summary>
    public bool AsksForEmergencyStopTest { get; init; }

    /// <summary>The sequence; null where none was started.</summary>
    public SequenceSnapshot? Sequence { get; init; }

    /// <summary>The last stored run; null before any.</summary>
    public Run? LastRun { get; init; }
}

/// <summary>What can be seen of a sequence.</summary>
public sealed record SequenceSnapshot
{
    /// <summary>What was asked for.</summary>
    public required SequencePlan Plan { get; init; }

    /// <summary>Where it stands.</summary>
    public required SequenceStage Stage { get; init; }

    /// <summary>In words: what it waits for, why it is held, what to do.</summary>
    public required Sentence Reason { get; init; }

    /// <summary>The specimen now; null where it is finished.</summary>
    public string? SpecimenId { get; init; }

    /// <summary>The run being pulled; null outside a pull.</summary>
    public string? RunId { get; init; }

    /// <summary>What became of each specimen of the plan, in its order.</summary>
    public required IReadOnlyList<SpecimenProgress> Specimens { get; init; }

    /// <summary>When the announced delay ends, in wall time; null where none runs.</summary>
    public DateTimeOffset? PullAnnouncedFor { get; init; }

    /// <summary>Whether a person is asked to confirm that the specimen is in and hands are out (devices without a guard input).</summary>
    public bool NeedsConfirmation { get; init; }

    /// <summary>Whether a person is asked to open the far grip, or to take the piece out, and to confirm it: a zero is to be
    /// taken.</summary>
    public bool NeedsOpenGrip { get; init; }

    /// <summary>The force that clamping put on the specimen, in newtons; null before it is known. It is never tared away.</summary>
    public double? ClampingForceNewtons { get; init; }

    /// <summary>The greatest force of the pull so far, in newtons; null outside a pull.</summary>
    public double? RunningMaximumNewtons { get; init; }
}

/// <summary>A channel besides the force, and its last value.</summary>
/// <param name="Head">What it is.</param>
/// <param name="Value">In its unit; null before any, and where there is none.</param>
public sealed record ChannelNow(ChannelHead Head, double? Value);
