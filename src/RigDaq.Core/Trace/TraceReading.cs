using RigDaq.Core.Pulls;
using RigDaq.Text;

namespace RigDaq.Core.Trace;

/// <summary>A fall of the force that recovered: a grip that slipped, a layer that popped.</summary>
/// <param name="TimeSeconds">When it began, from the start of the trace.</param>
/// <param name="DepthNewtons">How deep it was.</param>
public readonly record struct LoadDrop(double TimeSeconds, double DepthNewtons);

/// <summary>A sudden step in which load was lost for good.</summary>
/// <param name="TimeSeconds">When it began, from the start of the trace.</param>
/// <param name="ForceNewtons">The last force before it.</param>
/// <param name="LeftNewtons">The force after it.</param>
public readonly record struct LoadStep(double TimeSeconds, double ForceNewtons, double LeftNewtons);

/// <summary>What was read from a trace. Forces are in newtons above zero, times in seconds from the start of the trace. A figure that
/// cannot be had is null, and a warning says why.</summary>
public sealed record TraceReading
{
    /// <summary>How the force ended, as the trace alone tells (no overload, stop or interruption).</summary>
    public required PullEnding Ending { get; init; }

    /// <summary>Samples a second, from the stamps.</summary>
    public double? SampleRateHertz { get; init; }

    /// <summary>The standard deviation of a still stretch.</summary>
    public double? NoiseNewtons { get; init; }

    /// <summary>The mean before contact, in newtons of the trace as given.</summary>
    public double? ZeroNewtons { get; init; }

    /// <summary>By how much the zero went from before the pull to after the break, where a line through both was taken off; null
    /// where not.</summary>
    public double? ZeroDriftNewtons { get; init; }

    /// <summary>The greatest force, estimated with little of the noise's upward bias.</summary>
    public double? PeakForceNewtons { get; init; }

    /// <summary>The standard uncertainty of that estimate from noise and sampling.</summary>
    public double? PeakForceStandardUncertaintyNewtons { get; init; }

    /// <summary>The zero's part of that uncertainty; null in readings from before it was kept.</summary>
    public double? ZeroStandardUncertaintyNewtons { get; init; }

    /// <summary>The half-width of the greatest part of that uncertainty that is a bound and no scatter (rectangular: its standard
    /// uncertainty is this over √3); 0 where there is none, null where it was not kept.</summary>
    public double? PeakForceBoundNewtons { get; init; }

    /// <summary>The greatest despiked sample.</summary>
    public double? RawPeakForceNewtons { get; init; }

    /// <summary>When contact was: the first of three samples in a row above it; null without contact.</summary>
    public double? ContactTimeSeconds { get; init; }

    /// <summary>When the peak was.</summary>
    public double? PeakTimeSeconds { get; init; }

    /// <summary>An earlier local maximum that ISO 527-1:2012 would take as the strength; null where the peak is the first.</summary>
    public double? FirstMaximumForceNewtons { get; init; }

    /// <summary>The last despiked force before the fall that separates; null unless broken or partly broken.</summary>
    public double? BreakForceNewtons { get; init; }

    /// <summary>When that fall began.</summary>
    public double? BreakTimeSeconds { get; init; }

    /// <summary>Where a specimen reads as slipped out but its slow fall ended suddenly: the last force before that end. It may have drawn
    /// and broken; null where there was no such end.</summary>
    public double? SuddenPartingForceNewtons { get; init; }

    /// <summary>The loading rate at the peak.</summary>
    public double? LoadingRateNewtonsPerSecond { get; init; }

    /// <summary>The standard uncertainty of that rate from the stamps alone; null where they are the device's own, whose jitter is nothing
    /// beside the interval.</summary>
    public double? LoadingRateStandardUncertaintyNewtonsPerSecond { get; init; }

    /// <summary>How many samples peak and rate rest on; null without contact.</summary>
    public int? PeakSamples { get; init; }

    /// <summary>By how much the true peak can have been higher between two samples.</summary>
    public double? UnderReadNewtons { get; init; }

    /// <summary>Falls that recovered.</summary>
    public IReadOnlyList<LoadDrop> LoadDrops { get; init; } = [];

    /// <summary>The sudden steps in which it lost load for good, the break among them; in order of time.</summary>
    public IReadOnlyList<LoadStep> Steps { get; init; } = [];

    /// <summary>Wild conversions that were left out (and kept, marked).</summary>
    public int SpikesRemoved { get; init; }

    /// <summary>Samples that never arrived.</summary>
    public long SamplesLost { get; init; }

    /// <summary>Crosshead extension at the peak from contact, machine compliance taken off, in mm.</summary>
    public double? ExtensionAtPeakMillimetres { get; init; }

    /// <summary>The same at the break.</summary>
    public double? ExtensionAtBreakMillimetres { get; init; }

    /// <summary>Initial slope of force over extension; a crosshead slope, never a modulus.</summary>
    public double? InitialSlopeNewtonsPerMillimetre { get; init; }

    /// <summary>The standard uncertainty of that slope, from its line's scatter and the compliance's; of the crosshead's slope as it is
    /// where no compliance was taken off.</summary>
    public double? InitialSlopeStandardUncertaintyNewtonsPerMillimetre { get; init; }

    /// <summary>The machine's compliance that extension, slope and work had taken off; null where the machine's own give is still
    /// in them.</summary>
    public double? ComplianceMillimetresPerNewton { get; init; }

    /// <summary>Which kept compliance that was; null where none, or one from outside.</summary>
    public string? ComplianceId { get; init; }

    /// <summary>What an extensometer on the specimen adds; null without one, and in readings of before.</summary>
    public GaugeReading? Gauge { get; init; }

    /// <summary>Work to the break, in joules.</summary>
    public double? WorkToBreakJoules { get; init; }

    /// <summary>Work after the peak, in joules.</summary>
    public double? WorkAfterPeakJoules { get; init; }

    /// <summary>Crosshead extension from the peak to the break, in mm.</summary>
    public double? ExtensionAfterPeakMillimetres { get; init; }

    /// <summary>Work after the peak as a share of all work to the break, 0 to 1; at an even speed, where no position is known.</summary>
    public double? WorkAfterPeakShare { get; init; }

    /// <summary>How fast the force went down in the fall that separated, in N/s; at least that where the fall lies between two
    /// samples.</summary>
    public double? FallRateNewtonsPerSecond { get; init; }

    /// <summary>Brittle or ductile, by those figures; null unless broken or partly broken.</summary>
    public FractureManner? Fracture { get; init; }

    /// <summary>What a person should look at.</summary>
    public IReadOnlyList<Sentence> Warnings { get; init; } = [];
}
