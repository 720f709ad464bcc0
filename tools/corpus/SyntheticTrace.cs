using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Trace;

namespace RigDaq.Corpus;

/// <summary>A made trace with what is true of it.</summary>
internal sealed record SyntheticTrace
{
    public required ulong Seed { get; init; }
    public required string Kind { get; init; }
    public required ForceTrace Trace { get; init; }
    public required PullEnding Ending { get; init; }

    /// <summary>Above the zero of the first second; null where it cannot be known (a cell at its end).</summary>
    public double? TruePeak { get; init; }

    /// <summary>When the last fall begins; null without one.</summary>
    public double? FallAt { get; init; }

    /// <summary>The true force just before it.</summary>
    public double? TrueBreakForce { get; init; }

    /// <summary>The deviation of a sample's noise, all of it.</summary>
    public required double Noise { get; init; }
    /// <summary>The deviation of the hum in it.</summary>
    public double Hum { get; init; }
    public required double Interval { get; init; }

    /// <summary>Whether the force rises into the fall, so that the last interval's phase is unknown.</summary>
    public bool RisesIntoFall { get; init; }

    /// <summary>How fast the force rises there.</summary>
    public double Rate { get; init; }

    /// <summary>How steep the force is just before the fall, up or down.</summary>
    public double SlopeIntoFall { get; init; }
    public int Spikes { get; init; }
    public int Lost { get; init; }
    public int Drops { get; init; }
    public override string ToString()
        => $"seed {Seed}: {Kind}, {1 / Interval:F1} samples/s, noise {Noise:G3} N, peak {TruePeak:G5} N, {Ending.Word()}";
}
