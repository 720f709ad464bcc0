using RigDaq.Core.Specimens;

namespace RigDaq.Core.Statistics.Questions;

/// <summary>A stretch that could not be printed.</summary>
/// <param name="Group">Material, condition, setting.</param>
/// <param name="Print">The print it belonged to; empty where it was a print of its own.</param>
public sealed record FailedStretch(GroupKey Group, string Print)
{
    /// <summary>How many prints were tried, all in vain; 1 or more.</summary>
    public int Tries { get; init; } = 1;

    /// <summary>Why, in a person's words; may be empty.</summary>
    public string Reason { get; init; } = "";
}

/// <summary>A scatter that is known from elsewhere.</summary>
/// <param name="Percent">Its standard deviation in per cent of strength, 0 or more.</param>
/// <param name="DegreesOfFreedom">What it rests on; infinite where it was stated.</param>
/// <param name="From">One of <see cref="ScatterSources"/>.</param>
public sealed record KnownScatter(double Percent, double DegreesOfFreedom = double.PositiveInfinity, string From = ScatterSources.Stated)
{
    /// <summary>
    /// The variance of its estimated variance, on the logarithm to the fourth power; null where <see cref="DegreesOfFreedom"/> say it. It counts for an estimate
    /// of 0 too, which degrees of freedom cannot say.
    /// </summary>
    public double? VarianceOfVariance { get; init; }
}

/// <summary>An earlier study on the same bench that groups are set against; never pooled.</summary>
public sealed record EarlierStudy
{
    /// <summary>What to call it, with its date where that is known.</summary>
    public required string Name { get; init; }

    /// <summary>Its strengths.</summary>
    public required IReadOnlyList<Observation> Observations { get; init; }

    /// <summary>The standard uncertainty of its calibration in per cent of strength, shared by all of its specimens; null where not known.</summary>
    public double? CalibrationPercent { get; init; }

    /// <summary>Whether a control piece was pulled in both studies; null where nobody said.</summary>
    public bool? ControlInBoth { get; init; }

    /// <summary>The group that it pulled as a control; null where it is not known.</summary>
    public GroupKey? Control { get; init; }

    /// <summary>Whether it was measured on another bench.</summary>
    public bool FromElsewhere { get; init; }

    /// <summary>Whether the scatter between its prints is used where the study at hand has one print of each.</summary>
    public bool GivesScatter { get; init; } = true;
}

/// <summary>A question that was frozen in the plan. A null member stands for any.</summary>
public sealed record FrozenQuestion(
    string Question, string? Material = null, string? Condition = null, decimal? Setting = null, string? AgainstMaterial = null, string? AgainstCondition = null,
    decimal? AgainstSetting = null)
{
    /// <summary>Whether an answer is to this question.</summary>
    public bool Covers(QuestionAnswer answer) => answer.Question == Question && Fits(Material, answer.Material) && Fits(Condition, answer.Condition)
        && Fits(AgainstMaterial, answer.AgainstMaterial) && Fits(AgainstCondition, answer.AgainstCondition)
        && (Setting is null || Setting == answer.Setting) && (AgainstSetting is null || AgainstSetting == answer.AgainstSetting);

    private static bool Fits(string? wanted, string? there) => wanted is null || wanted == there;
}
