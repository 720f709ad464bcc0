using System.Globalization;

namespace RigDaq.Core.Text;

/// <content>What a planned number of prints and specimens can tell apart, and which question means nothing.</content>
internal static partial class CoreText
{
    public const string WithinPrintScatterNotPossible = "The scatter within a print must lie above 0 and at most at 1000 per cent.";
    public const string BetweenPrintScatterNotPossible = "The scatter between prints must lie between 0 and 1000 per cent.";
    public const string StretchScatterNotPossible = "The scatter of stretches must lie between 0 and 1000 per cent.";
    public const string PlanSettingsNotPossible = "Every print holds all settings, so the number of groups must be a multiple of the number of settings.";
    public const string PlanNeedsTwoGroups = "A comparison needs at least two groups.";
    public const string PlanNeedsComparison = "At least one comparison must be planned.";
    public const string ConfidenceNotPossible = "The confidence must lie between 50 and 100 per cent.";
    public const string PowerNotPossible = "The power must lie between 0.5 and 1.";
    public const string PlanNeedsPrintAndSpecimen = "A plan has at least one print and one specimen.";
    public const string ResolutionNotPossible = "The wanted resolution must be above 0 per cent.";

    public static string PlanTellsNothing(int prints, int specimens) =>
        $"{Planned(prints, specimens)} cannot tell any difference from chance; plan at least two specimens, or two prints.";

    /// <summary>What a plan resolves.</summary>
    /// <param name="prints">Prints a group.</param>
    /// <param name="specimens">Specimens a print.</param>
    /// <param name="percent">The true difference in per cent.</param>
    /// <param name="comparisons">Planned comparisons.</param>
    /// <param name="chance">In how many of 100 cases.</param>
    public static string PlanResolves(int prints, int specimens, string percent, int comparisons, string chance)
    {
        string among = comparisons == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $", as the first of {comparisons} comparisons,");
        return $"{Planned(prints, specimens)} call a true difference of {percent} % different{among} in {chance} of 100 cases"
            + (prints == 1 ? "; with one print a group this concerns those prints only." : ".");
    }

    /// <summary>What can be shown of one kind of question.</summary>
    /// <param name="question">Its name.</param>
    /// <param name="percent">The figure; null where nothing can be shown.</param>
    /// <param name="prints">Prints of each material and condition.</param>
    public static string PlanOutlook(string question, string? percent, int prints)
    {
        bool within = question is "condition trend" or "drop-off" or "drop-off difference" or "keeps" or "best settings";
        string what = question switch
        {
            "condition" => "two conditions at a setting: a difference of {0} %",
            "material" => "two materials at a setting: a difference of {0} %",
            "condition average" => "two conditions on average over the settings: a difference of {0} %",
            "material average" => "two materials on average over the settings: a difference of {0} %",
            "condition trend" => "an effect that changes from the first to the last setting: a change of {0} %",
            "drop-off" => "one setting against the reference setting: a difference of {0} %",
            "drop-off difference" => "which drops off faster: a difference of {0} %",
            "keeps" => "that strength is kept: where it truly lies {0} % above the limit",
            "best settings" => "which setting is strongest: a setting that is {0} % weaker is told from it",
            "equivalence profile" => "no difference at any setting: within a margin of {0} %",
            "earlier study" => "an earlier study (beside the calibrations): a difference of {0} %",
            _ => "the share of a manner of fracture, near one half: a difference of {0} points",
        };
        string found = percent is null ? what[..what.IndexOf(':', StringComparison.Ordinal)] + ": nothing can be shown" : string.Format(CultureInfo.InvariantCulture, what, percent);
        return found + (prints > 1 ? "." : within ? "; valid with one print but for the scatter of stretches." : "; for these prints only.");
    }

    /// <summary>What a second print brings.</summary>
    public static string PlanTwoPrintsForOne(int specimens, int half, string one, string two, string resolvable) => string.Create(CultureInfo.InvariantCulture,
        $"Two prints with {half} specimens each instead of one with {specimens}: a difference between prints made alike is then known to ±{two} % instead of ±{one} %, ")
        + $"and the study itself shows it: it calls a difference of {resolvable} % different. One print can never show how prints scatter.";

    private static string Planned(int prints, int specimens) => string.Create(
        CultureInfo.InvariantCulture, $"{prints} print{(prints == 1 ? "" : "s")} a group with {specimens} specimen{(specimens == 1 ? "" : "s")} each");
}
