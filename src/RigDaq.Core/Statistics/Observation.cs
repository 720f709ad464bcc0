using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Statistics;

/// <summary>One specimen's strength and where it belongs.</summary>
/// <param name="Group">Material, condition, setting.</param>
/// <param name="Print">The print it was cut from, unique within its group; empty where the table does not say (then one print).</param>
/// <param name="StrengthMegapascals">Its strength in MPa, finite.</param>
public sealed record Observation(GroupKey Group, string Print, double StrengthMegapascals);

/// <summary>How groups are compared.</summary>
public sealed record ComparisonOptions
{
    /// <summary>The condition that each other one is compared with; null for all pairs, the earlier the reference.</summary>
    public string? ReferenceCondition { get; init; }

    /// <summary>The comparisons of the plan; null for all that <see cref="ReferenceCondition"/> gives. Holm runs over these.</summary>
    public IReadOnlyList<PlannedComparison>? Planned { get; init; }

    /// <summary>The margin of equivalence in per cent of the reference mean: above 0, below 100.</summary>
    public double MarginPercent { get; init; } = 5;

    /// <summary>The confidence of intervals in per cent, above 50 and below 100; α is what is missing to 100.</summary>
    public double ConfidencePercent { get; init; } = 95;

    /// <summary>The setting that retained strength is relative to; null for the lowest of each series.</summary>
    public decimal? ReferenceSetting { get; init; }

    /// <summary>The setting's unit, for sentences; empty where there is none.</summary>
    public string SettingUnit { get; init; } = "";

    /// <summary>What sentences are written in; figures stay MPa.</summary>
    public Units Units { get; init; } = Units.Si;

    /// <summary>The level of the tests, 1 − confidence.</summary>
    public double Alpha => (100 - ConfidencePercent) / 100;

    /// <summary>Refuses options that mean nothing.</summary>
    /// <exception cref="ArgumentException">A figure is outside its range; the message says which.</exception>
    public void Check()
    {
        if (!(MarginPercent > 0 && MarginPercent < 100)) throw new ArgumentException("The margin must lie between 0 and 100 per cent.");
        if (!(ConfidencePercent > 50 && ConfidencePercent < 100)) throw new ArgumentException("The confidence must lie between 50 and 100 per cent.");
    }
}
