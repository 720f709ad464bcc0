using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>Where a guided calibration stands.</summary>
public enum GuidePhase
{
    /// <summary>Cell and amplifier are getting warm: the zero still drifts.</summary>
    WarmingUp,

    /// <summary>Waits until what is asked for hangs and is still.</summary>
    Awaiting,

    /// <summary>A reading is taken; the force hangs on for its creep.</summary>
    Dwelling,

    /// <summary>Counts fall as the force rises: waits for a person's consent.</summary>
    AskingSign,

    /// <summary>Stopped by a person; can be resumed.</summary>
    Paused,

    /// <summary>All readings are taken: waits for a person to accept or refuse.</summary>
    Review,

    /// <summary>Accepted.</summary>
    Accepted,

    /// <summary>Refused or given up.</summary>
    Abandoned,
}

/// <summary>A reading that was taken, with the task it was taken for.</summary>
/// <param name="TaskIndex">Which task.</param>
/// <param name="Reading">The reading.</param>
public sealed record GuideReading(int TaskIndex, CalibrationReading Reading);

/// <summary>All that a guided calibration knows. Survives as JSON: it can be stopped and resumed at any step.</summary>
public sealed record GuideState
{
    /// <summary>The plan.</summary>
    public required GuidePlan Plan { get; init; }

    /// <summary>Under what it is made.</summary>
    public CalibrationCircumstances Circumstances { get; init; } = new();

    /// <summary>What is known of cell and room.</summary>
    public UncertaintyInputs Inputs { get; init; } = new();

    /// <summary>The device's start that the readings belong to; null where that is not known.</summary>
    public uint? BootNumber { get; init; }

    /// <summary>Where it stands.</summary>
    public GuidePhase Phase { get; init; } = GuidePhase.WarmingUp;

    /// <summary>What it goes back to from <see cref="GuidePhase.Paused"/>.</summary>
    public GuidePhase ResumeTo { get; init; } = GuidePhase.WarmingUp;

    /// <summary>Which task is on.</summary>
    public int TaskIndex { get; init; }

    /// <summary>What was read, preloads and zeros included.</summary>
    public IReadOnlyList<GuideReading> Taken { get; init; } = [];

    /// <summary>The recent signal.</summary>
    public SignalWindow Window { get; init; } = new();

    /// <summary>The standard deviation of single samples at rest, in counts; null until warm.</summary>
    public double? NoiseCounts { get; init; }

    /// <summary>The standard deviation of means over a tenth of a second at rest, in counts; null until warm.</summary>
    public double? WanderCounts { get; init; }

    /// <summary>The drift of the zero in counts a minute, as last seen; null before there was a stretch to see it in.</summary>
    public double? DriftCountsPerMinute { get; init; }

    /// <summary>The limit it is held to.</summary>
    public double? DriftLimitCountsPerMinute { get; init; }

    /// <summary>Device time of the last sample; null before the first.</summary>
    public long? LastMicroseconds { get; init; }

    /// <summary>Device time at which the phase or the task began.</summary>
    public long? SinceMicroseconds { get; init; }

    /// <summary>Device time of the last word to the person about waiting.</summary>
    public long? RemindedMicroseconds { get; init; }

    /// <summary>The level at which a reading was last rejected, so that it is said once.</summary>
    public double? RejectedCounts { get; init; }

    /// <summary>Whether a person agreed that counts fall as the force rises.</summary>
    public bool NegativeSlopeAccepted { get; init; }

    /// <summary>Whether the first samples after a pause are still to come.</summary>
    public bool JustResumed { get; init; }

    /// <summary>How often a whole series was asked for again.</summary>
    public int SeriesRepeated { get; init; }

    /// <summary>What was done otherwise than planned; goes into the record.</summary>
    public IReadOnlyList<Sentence> Notes { get; init; } = [];

    /// <summary>As it is taken up again after whoever led it was gone: paused, so that the length of the pause is judged by the device's
    /// clock; null where it was finished.</summary>
    public GuideState? TakenUp() => Phase switch
    {
        GuidePhase.Accepted or GuidePhase.Abandoned => null,
        GuidePhase.Paused => this,
        _ => this with { Phase = GuidePhase.Paused, ResumeTo = Phase },
    };

    /// <summary>Whether something came about since an earlier state that is worth keeping: another phase, a reading taken or
    /// dropped.</summary>
    public bool HasProgressedSince(GuideState before) => before.Phase != Phase || !ReferenceEquals(before.Taken, Taken);

    /// <summary>The readings for the fit: without the preloads.</summary>
    public IReadOnlyList<CalibrationReading> FitReadings() =>
        [.. Taken.Where(taken => !taken.Reading.Series.StartsWith(GuidePlan.PreloadSeries, StringComparison.Ordinal))
            .OrderBy(taken => taken.TaskIndex).Select(taken => taken.Reading)];
}
