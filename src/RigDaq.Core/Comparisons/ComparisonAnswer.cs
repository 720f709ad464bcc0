using RigDaq.Core.Questions;
using RigDaq.Core.Statistics;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>Groups, comparisons and what to beware of. Names and order are a public promise (docs/statistics.md); figures in MPa.</summary>
/// <param name="Groups">In the order of first appearance.</param>
/// <param name="Comparisons">In the order of first appearance.</param>
/// <param name="Warnings">In whole sentences.</param>
/// <param name="Series">Across settings, one for each material and condition that has two settings or more.</param>
public sealed record ComparisonAnswer(IReadOnlyList<GroupStatistics> Groups, IReadOnlyList<Comparison> Comparisons,
    IReadOnlyList<Sentence> Warnings, IReadOnlyList<SettingSeries> Series)
{
    /// <summary>The model behind the answers; null where no strength can enter it.</summary>
    public QuestionModel? Model { get; init; }

    /// <summary>The questions, answered: what people are shown.</summary>
    public IReadOnlyList<QuestionAnswer> Answers { get; init; } = [];
}

/// <summary>What is known of a group. Figures in MPa; null where there are too few values.</summary>
public sealed record GroupStatistics
{
    /// <summary>The material.</summary>
    public required string Material { get; init; }

    /// <summary>The condition.</summary>
    public required string Condition { get; init; }

    /// <summary>The setting; null where there is none.</summary>
    public required decimal? Setting { get; init; }

    /// <summary>How many specimens.</summary>
    public required int N { get; init; }

    /// <summary>From how many prints.</summary>
    public required int Prints { get; init; }

    /// <summary>The mean; with two prints or more the mean of the print means.</summary>
    public required double Mean { get; init; }

    /// <summary>The standard deviation of all specimens, with n − 1.</summary>
    public required double? StandardDeviation { get; init; }

    /// <summary>Standard deviation over mean, in per cent; null where the mean is not above 0.</summary>
    public required double? VariationPercent { get; init; }

    /// <summary>The lower end of the mean's interval.</summary>
    public required double? Low { get; init; }

    /// <summary>The upper end of the mean's interval.</summary>
    public required double? High { get; init; }

    /// <summary>The median of all specimens.</summary>
    public required double Median { get; init; }

    /// <summary>The weakest.</summary>
    public required double Minimum { get; init; }

    /// <summary>The strongest.</summary>
    public required double Maximum { get; init; }

    /// <summary>The value farthest from the mean, tested.</summary>
    public required Grubbs? Grubbs { get; init; }

    /// <summary>The variance between prints beyond that within, in MPa² (analysis of variance, not below 0); null with one print.</summary>
    public required double? BetweenPrintVariance { get; init; }

    /// <summary>The variance of specimens within a print, in MPa²; null where no print has two.</summary>
    public required double? WithinPrintVariance { get; init; }
}

/// <summary>Two groups of one material and setting, set against each other; condition minus reference.</summary>
public sealed record Comparison
{
    /// <summary>The material.</summary>
    public required string Material { get; init; }

    /// <summary>The setting; null where there is none.</summary>
    public required decimal? Setting { get; init; }

    /// <summary>The condition.</summary>
    public required string Condition { get; init; }

    /// <summary>The condition it is compared with.</summary>
    public required string Reference { get; init; }

    /// <summary>Condition minus reference, in MPa.</summary>
    public required double Difference { get; init; }

    /// <summary>The lower end of its interval, unadjusted.</summary>
    public double? Low { get; init; }

    /// <summary>The upper end of its interval, unadjusted.</summary>
    public double? High { get; init; }

    /// <summary>The difference in per cent of the reference mean.</summary>
    public double? Percent { get; init; }

    /// <summary>The lower end of Fieller's interval, unadjusted.</summary>
    public double? PercentLow { get; init; }

    /// <summary>The upper end of Fieller's interval, unadjusted.</summary>
    public double? PercentHigh { get; init; }

    /// <summary>The difference over its standard error.</summary>
    public double? T { get; init; }

    /// <summary>Of the standard error.</summary>
    public double? DegreesOfFreedom { get; init; }

    /// <summary>Two-sided, of no difference.</summary>
    public double? P { get; init; }

    /// <summary>The same after Holm.</summary>
    public double? PAdjusted { get; init; }

    /// <summary>Of two one-sided tests against the margin; unadjusted.</summary>
    public double? PEquivalence { get; init; }

    /// <summary>The smallest true difference, in MPa, that this many specimens with this scatter call different in 80 of 100
    /// cases.</summary>
    public double? Resolvable { get; init; }

    /// <summary>"prints" or "welch".</summary>
    public required string Method { get; init; }

    /// <summary>"different", "equivalent" or "not resolved".</summary>
    public required string Verdict { get; init; }

    /// <summary>Whether it is different and yet shown to be smaller than the margin.</summary>
    public bool WithinMargin { get; init; }

    /// <summary>The verdict as a sentence that may be published.</summary>
    public required string Sentence { get; init; }
}
