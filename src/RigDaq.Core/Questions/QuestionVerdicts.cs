namespace RigDaq.Core.Questions;

/// <summary>Verdicts beside those of <see cref="Verdicts"/>.</summary>
public static class QuestionVerdicts
{
    /// <summary>The setting is shown to keep so much.</summary>
    public const string Kept = "kept";

    /// <summary>No setting is shown to.</summary>
    public const string NotShown = "not shown";

    /// <summary>No other setting was shown to be stronger.</summary>
    public const string AmongTheBest = "among the best";

    /// <summary>Another setting is shown to be stronger.</summary>
    public const string NotAmongTheBest = "not among the best";
}
