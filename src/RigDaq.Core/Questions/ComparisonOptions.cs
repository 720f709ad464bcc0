using RigDaq.Core.Groups;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Questions;

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

    /// <summary>The material that each other one is compared with, with Dunnett's adjustment; null for all pairs.</summary>
    public string? ReferenceMaterial { get; init; }

    /// <summary>The setting that retained strength is relative to; null for the lowest of each series.</summary>
    public decimal? ReferenceSetting { get; init; }

    /// <summary>Per cent of the reference setting's strength that "keeps" asks for: above 0, below 100.</summary>
    public double KeepsPercent { get; init; } = 90;

    /// <summary>The scatter between prints where it is known from elsewhere; a stated one goes before what this study shows.</summary>
    public KnownScatter? PrintScatter { get; init; }

    /// <summary>The scatter of a stretch beyond its print where it is known from elsewhere.</summary>
    public KnownScatter? StretchScatter { get; init; }

    /// <summary>Whether the same print name at several settings stands for several prints.</summary>
    public bool SeparatePrints { get; init; }

    /// <summary>Of <see cref="QuestionNames"/>, those to be answered; null for all that the table at hand allows.</summary>
    public IReadOnlyList<string>? Questions { get; init; }

    /// <summary>The questions of the plan, which share Holm's adjustment; null where all belong to it.</summary>
    public IReadOnlyList<FrozenQuestion>? Frozen { get; init; }

    /// <summary>Earlier studies that groups are set against.</summary>
    public IReadOnlyList<EarlierStudy> Earlier { get; init; } = [];

    /// <summary>The group of a filament that is kept for it and pulled in every session; null where there is none.</summary>
    public GroupKey? Control { get; init; }

    /// <summary>The standard uncertainty of this study's calibration in per cent of strength, for earlier studies; null where not
    /// known.</summary>
    public double? CalibrationPercent { get; init; }

    /// <summary>The setting's unit, for sentences; empty where there is none.</summary>
    public string SettingUnit { get; init; } = "";

    /// <summary>What sentences are written in; figures stay MPa.</summary>
    public Units Units { get; init; } = Units.Si;

    /// <summary>What the model lives on; the identity serves published examples only.</summary>
    internal Mixed.ModelScale Scale { get; init; } = Mixed.ModelScale.Log;

    /// <summary>The level of the tests, 1 − confidence.</summary>
    public double Alpha => (100 - ConfidencePercent) / 100;

    /// <summary>Refuses options that mean nothing.</summary>
    /// <exception cref="ArgumentException">A figure is outside its range; the message says which.</exception>
    public void Check()
    {
        if (!(MarginPercent > 0 && MarginPercent < 100)) throw new ArgumentException("The margin must lie between 0 and 100 per cent.");
        if (!(ConfidencePercent > 50 && ConfidencePercent < 100))
            throw new ArgumentException("The confidence must lie between 50 and 100 per cent.");
        if (!(KeepsPercent > 0 && KeepsPercent < 100))
            throw new ArgumentException("What is to be kept must lie between 0 and 100 per cent.");
        if (!(PrintScatter is null or { Percent: >= 0 and <= 1000, DegreesOfFreedom: > 0 })
            || !(StretchScatter is null or { Percent: >= 0 and <= 1000, DegreesOfFreedom: > 0 }))
            throw new ArgumentException("A known scatter must lie between 0 and 1000 per cent.");
        if (Questions?.FirstOrDefault(question => !QuestionNames.All.Contains(question)) is { } unknown)
            throw new ArgumentException($"There is no question “{unknown}”.");
    }
}
