using RigDaq.Core.Specimens;

namespace RigDaq.Core.Questions;

/// <summary>One question that people ask of their pieces, answered. Names are a public promise; what does not apply is null.</summary>
public sealed record QuestionAnswer
{
    /// <summary>One of <see cref="QuestionNames"/>.</summary>
    public required string Question { get; init; }

    /// <summary>The material; the first of two where materials are compared.</summary>
    public string? Material { get; init; }

    /// <summary>The condition; the first of two where conditions are compared.</summary>
    public string? Condition { get; init; }

    /// <summary>The setting; the last of a trend, the farthest kept, null for an average.</summary>
    public decimal? Setting { get; init; }

    /// <summary>The material that it is compared with.</summary>
    public string? AgainstMaterial { get; init; }

    /// <summary>The condition that it is compared with.</summary>
    public string? AgainstCondition { get; init; }

    /// <summary>The setting that it is compared with: the reference setting, the first of a trend, the best other.</summary>
    public decimal? AgainstSetting { get; init; }

    /// <summary>100·(exp(<see cref="LogEstimate"/>) − 1); a share in per cent, a difference of shares in points.</summary>
    public double? Percent { get; init; }

    /// <summary>The lower end of its interval, unadjusted; one-sided for "keeps".</summary>
    public double? PercentLow { get; init; }

    /// <summary>The upper end of its interval, unadjusted.</summary>
    public double? PercentHigh { get; init; }

    /// <summary>The contrast of group means on the natural logarithm of strength, first minus second.</summary>
    public double? LogEstimate { get; init; }

    /// <summary>Its standard error.</summary>
    public double? LogStandardError { get; init; }

    /// <summary>Of the standard error: Kenward and Roger's, or Welch and Satterthwaite's.</summary>
    public double? DegreesOfFreedom { get; init; }

    /// <summary>Two-sided, of no difference; one-sided for "keeps" and "best settings".</summary>
    public double? P { get; init; }

    /// <summary>After Holm within its family, or Dunnett's where a reference material is named; null where the question controls its own
    /// error.</summary>
    public double? PAdjusted { get; init; }

    /// <summary>Of two one-sided tests against the margin on the logarithm; of a profile the greatest of its settings.</summary>
    public double? PEquivalence { get; init; }

    /// <summary>One of <see cref="Verdicts"/> or <see cref="QuestionVerdicts"/>; null where there is none.</summary>
    public string? Verdict { get; init; }

    /// <summary>One of <see cref="Abouts"/>.</summary>
    public string? About { get; init; }

    /// <summary>What was found, fit to be published as it stands.</summary>
    public string Sentence { get; init; } = "";

    /// <summary>Which of several forms: "slope" or "last against first" of a trend, "up" or "down" of "keeps", the manner or place of a
    /// share, the earlier study; else null.</summary>
    public string? Form { get; init; }

    /// <summary>The earlier study that it is compared with.</summary>
    public string? AgainstStudy { get; init; }

    /// <summary>Whether the change of a control that both studies pulled was taken off; null where no earlier study is asked
    /// about.</summary>
    public bool? CorrectedByControl { get; init; }

    /// <summary>How many of the strengths behind it came from a table, without a trace of ours; null for none.</summary>
    public int? Imported { get; init; }

    /// <summary>Of "keeps" with the reference setting in the middle: the way that keeps less far; null where there is one way
    /// only.</summary>
    public KeptOtherWay? OtherWay { get; init; }

    /// <summary>Specimens or prints counted, of a share or of what could not be printed.</summary>
    public int? Count { get; init; }

    /// <summary>Out of so many.</summary>
    public int? Total { get; init; }

    /// <summary>Prints of the first and of the second side; null where they do not matter.</summary>
    public IReadOnlyList<int>? Prints { get; init; }

    /// <summary>Whether the question was not among those frozen in the plan; its p is then not adjusted with them.</summary>
    public bool SeenAfterwards { get; init; }

    /// <summary>Whether it is to a question that was frozen in the plan.</summary>
    public bool Answers(FrozenQuestion question) => question.Question == Question
        && (question.Material is null || question.Material == Material) && (question.Condition is null || question.Condition == Condition)
        && (question.AgainstMaterial is null || question.AgainstMaterial == AgainstMaterial)
        && (question.AgainstCondition is null || question.AgainstCondition == AgainstCondition)
        && (question.Setting is null || question.Setting == Setting)
            && (question.AgainstSetting is null || question.AgainstSetting == AgainstSetting);
}

/// <summary>How far strength is kept in the other direction.</summary>
/// <param name="Form">"up" or "down".</param>
/// <param name="Setting">The farthest kept; null where none is shown to be.</param>
/// <param name="Percent">What it keeps beyond 100 %; negative where less.</param>
/// <param name="PercentLow">The one-sided lower end.</param>
public sealed record KeptOtherWay(string Form, decimal? Setting, double? Percent, double? PercentLow);
