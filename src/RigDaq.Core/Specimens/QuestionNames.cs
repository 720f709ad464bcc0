using RigDaq.Core.Questions;

namespace RigDaq.Core.Specimens;

/// <summary>The words of <see cref="QuestionAnswer.Question"/>; a public promise (docs/statistics.md).</summary>
public static class QuestionNames
{
    /// <summary>Condition against condition at a setting.</summary>
    public const string Condition = "condition";

    /// <summary>Condition against condition, averaged over the settings that both have.</summary>
    public const string ConditionAverage = "condition average";

    /// <summary>Does what the condition does change with the setting.</summary>
    public const string ConditionTrend = "condition trend";

    /// <summary>Material against material at a setting.</summary>
    public const string Material = "material";

    /// <summary>Material against material, averaged over the settings that both have.</summary>
    public const string MaterialAverage = "material average";

    /// <summary>Strength at a setting against that at the reference setting.</summary>
    public const string DropOff = "drop-off";

    /// <summary>Who drops off faster: a ratio of two drop-offs.</summary>
    public const string DropOffDifference = "drop-off difference";

    /// <summary>The farthest setting that keeps so many per cent of the reference setting's strength.</summary>
    public const string Keeps = "keeps";

    /// <summary>Which settings may be the strongest: no other was shown to be stronger.</summary>
    public const string BestSettings = "best settings";

    /// <summary>No difference at any setting: equivalence of a whole profile.</summary>
    public const string EquivalenceProfile = "equivalence profile";

    /// <summary>As strong as in an earlier study.</summary>
    public const string EarlierStudy = "earlier study";

    /// <summary>The share of specimens that broke in one manner or at one place.</summary>
    public const string Share = "share";

    /// <summary>How many prints could not be printed at a setting.</summary>
    public const string NotPrintable = "not printable";

    /// <summary>All of them, in the order of an answer.</summary>
    public static IReadOnlyList<string> All { get; } =
    [
        Condition, ConditionAverage, ConditionTrend, Material, MaterialAverage, DropOff, DropOffDifference, Keeps, BestSettings,
            EquivalenceProfile, EarlierStudy, Share,
        NotPrintable,
    ];
}
