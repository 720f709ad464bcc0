using RigDaq.Core.Strength;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;

namespace RigDaq.Rig.Sequencing;

/// <summary>What exactly a sequence is at; several steps make a stage.</summary>
internal enum SequenceStep
{
    AwaitingOpenGrip,
    TakingZero,
    SettingLimits,
    GoingToStart,
    Feeding,
    AwaitingGuardOpen,
    AwaitingGuardClosed,
    AwaitingConfirmation,
    AnnouncedDelay,
    MeasuringClamp,
    RelievingClamp,
    OpeningCapture,
    TakingUpSlack,
    Pulling,
    Stopping,
    Settling,
    Separating,
    TakingZeroApart,
    Returning,
    Held,
    Finished,
}

/// <summary>What is known of the two grips. A zero is taken only where nothing can join them: all else would be tared away with it.</summary>
internal enum GripKnowledge
{
    /// <summary>A piece may join them: one was put in, or hands were, and nothing has shown it to have parted.</summary>
    MayBeJoined,

    /// <summary>It has parted, but not surely all of it, or the crosshead went back since: what is left may hang together or touch.</summary>
    MayTouch,

    /// <summary>It was seen to break, and the crosshead has not gone back since.</summary>
    Apart,

    /// <summary>A person has said that the far grip is open, and nothing was put in since.</summary>
    FarOneOpen,
}

/// <summary>What the sequencer knows of the rig.</summary>
internal sealed record RigConditions
{
    public static RigConditions Nothing { get; } = new();

    /// <summary>What decides about motion.</summary>
    public InterlockFacts Facts { get; init; } = InterlockFacts.Nothing;

    /// <summary>The device's start; 0 while none is known.</summary>
    public uint BootNumber { get; init; }

    public bool HasFeeder { get; init; }

    /// <summary>It only measures: a person turns the handle when told to.</summary>
    public bool TurnedByHand => Facts.TurnedByHand;

    public bool HasGuard { get; init; }

    /// <summary>It can find home and has not.</summary>
    public bool NeedsHoming { get; init; }

    public DeviceFaults Faults { get; init; }

    public bool SpecimenLoaded { get; init; }

    public bool FeederEmpty { get; init; }

    /// <summary>In mm from home; null where the device does not know it.</summary>
    public double? PositionMillimetres { get; init; }
}

/// <summary>How far an open pull has come.</summary>
internal enum PullPhase
{
    /// <summary>Samples go to its capture.</summary>
    Running,

    /// <summary>It has its ending; its run is being stored.</summary>
    Recording,

    /// <summary>Its run could not be stored; the capture has it.</summary>
    NotRecorded,
}

/// <summary>A pull that has begun and whose run is not stored yet.</summary>
internal sealed record OpenPull(string RunId, PullPhase Phase, PullEnding? Ending, string EndingReason);

/// <summary>All that a sequence is, at one instant. The sequencer makes the next one of it.</summary>
internal sealed record SequenceState
{
    public required SequencePlan Plan { get; init; }

    public required IReadOnlyList<SpecimenProgress> Specimens { get; init; }

    public required RigConditions Rig { get; init; }

    public SequenceStage Stage { get; init; } = SequenceStage.WaitingForSpecimen;

    public SequenceStep Step { get; init; } = SequenceStep.Held;

    public string Reason { get; init; } = "";

    /// <summary>The device's last start that was known, also while the link is lost.</summary>
    public uint KnownBootNumber { get; init; }

    /// <summary>Counts entries into steps; what was asked in an earlier one no longer matters.</summary>
    public int Ticket { get; init; }

    /// <summary>The ticket of the last motion that was commanded.</summary>
    public int MotionTicket { get; init; }

    /// <summary>The current specimen.</summary>
    public int Index { get; init; }

    /// <summary>Where a specimen is put in; null until it is known.</summary>
    public double? StartMillimetres { get; init; }

    public double? ZeroCounts { get; init; }

    /// <summary>The standard deviation of the counts while it was taken.</summary>
    public double ZeroDeviationCounts { get; init; }

    /// <summary>Counts the zeros that were accepted.</summary>
    public int ZerosTaken { get; init; }

    /// <summary>Which zero the next pull has is settled: one taken since the last pull, or that of before stands.</summary>
    public bool ZeroIsSettled { get; init; }

    /// <summary>The zero of before cannot stand: another one has to be taken.</summary>
    public bool ZeroInDoubt { get; init; }

    /// <summary>How many pulls have begun with this zero.</summary>
    public int PullsOnZero { get; init; }

    /// <summary>How far a zero that was not accepted lay from the one before; a person who has been told takes it as it is.</summary>
    public double? ZeroShiftNewtons { get; init; }

    public GripKnowledge Grips { get; init; }

    /// <summary>The zero that the limits in force were made for.</summary>
    public double? LimitsZeroCounts { get; init; }

    /// <summary>The specimen is in the grips: a feeder, a guard that opened and closed, or a person said so.</summary>
    public bool Loaded { get; init; }

    /// <summary>The feeder has put the current specimen in, whatever became of it since.</summary>
    public bool Fed { get; init; }

    /// <summary>Specimens that were skipped while the feeder still had them: so many feeds bring one to leave out.</summary>
    public int FeedsToDiscard { get; init; }

    /// <summary>How often the current specimen has been pulled.</summary>
    public int PullsOfSpecimen { get; init; }

    public double? ClampingForceNewtons { get; init; }

    /// <summary>Attempts at what the step tries.</summary>
    public int Tries { get; init; }

    public int Reliefs { get; init; }

    /// <summary>A capture was asked for and neither opened nor failed.</summary>
    public bool CapturePending { get; init; }

    public OpenPull? Pull { get; init; }

    /// <summary>The crosshead is back; only the stored run is missing.</summary>
    public bool Returned { get; init; }

    /// <summary>Why to hold once the crosshead is back; null where the sequence goes on.</summary>
    public string? HoldAfterReturn { get; init; }

    public SpecimenProgress Current => Specimens[Index];
}
