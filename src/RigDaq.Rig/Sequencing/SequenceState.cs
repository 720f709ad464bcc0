using RigDaq.Text;

namespace RigDaq.Rig.Sequencing;

/// <summary>All that a sequence is, at one instant. The sequencer makes the next one of it.</summary>
internal sealed record SequenceState
{
    public required SequencePlan Plan { get; init; }

    /// <summary>What became of each specimen of the plan; at least one.</summary>
    public required IReadOnlyList<SpecimenProgress> Specimens { get; init; }

    public required RigConditions Rig { get; init; }

    public SequenceStep Step { get; init; } = new SequenceStep.NotBegun();

    public SequenceStage Stage => Step.Stage;

    public Sentence Reason { get; init; } = Sentence.None;

    /// <summary>The device's last start that was known, also while the link is lost.</summary>
    public uint KnownBootNumber { get; init; }

    /// <summary>Counts entries into steps; what was asked in an earlier one no longer matters.</summary>
    public int Ticket { get; init; }

    /// <summary>The ticket of the last motion that was commanded.</summary>
    public int MotionTicket { get; init; }

    /// <summary>The turn of the current specimen; once the sequence is finished, of the last one.</summary>
    public SpecimenTurn Turn { get; init; } = new(0);

    /// <summary>Where a specimen is put in; null until it is known.</summary>
    public double? StartMillimetres { get; init; }

    public SequenceZero? Zero { get; init; }

    /// <summary>Counts the zeros that were accepted.</summary>
    public int ZerosTaken { get; init; }

    public GripKnowledge Grips { get; init; }

    /// <summary>What the limits that the device has confirmed were made for; null where it has none of this sequence.</summary>
    public LimitsBasis? Limits { get; init; }

    /// <summary>Specimens that were skipped while the feeder still had them: so many feeds bring one to leave out.</summary>
    public int FeedsToDiscard { get; init; }

    public PullStorage? Storage { get; init; }

    public SpecimenProgress Current => Specimens[Turn.Index];

    /// <summary>The pull that is open or whose run is not stored yet; null where there is none.</summary>
    public string? RunId => Step is SequenceStep.InPull pull ? pull.RunId : Storage?.Run;

    /// <summary>What limits would be made for now; null without a zero.</summary>
    public LimitsBasis? LimitsWanted => Zero is { } zero ? new(zero.Reading.Counts, Rig.CalibrationNumber) : null;

    /// <summary>Nothing can join the grips: only here a zero is taken.</summary>
    public bool NothingJoinsGrips => Grips is GripKnowledge.Apart or GripKnowledge.FarOneOpen;
}

/// <summary>What is known of the two grips. What joins them would be tared away with a zero.</summary>
internal enum GripKnowledge
{
    /// <summary>A piece may join them: one was put in, or hands were, and nothing has shown it to have parted.</summary>
    MayBeJoined,

    /// <summary>It has parted, but not surely all of it, or the crosshead went back since: the rest may hang together or touch.</summary>
    MayTouch,

    /// <summary>It was seen to break, and the crosshead has not gone back since.</summary>
    Apart,

    /// <summary>A person has said that the far grip is open, and nothing was put in since.</summary>
    FarOneOpen,
}

/// <summary>What limits in counts are made for: they hold for no other zero and under no other calibration.</summary>
/// <param name="ZeroCounts">The zero.</param>
/// <param name="CalibrationNumber">The calibration, see <see cref="RigConditions.CalibrationNumber"/>.</param>
internal sealed record LimitsBasis(double ZeroCounts, int CalibrationNumber);
