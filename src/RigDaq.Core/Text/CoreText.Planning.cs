using System.Globalization;

namespace RigDaq.Core.Text;

/// <content>What a planned number of prints and specimens can tell apart, and which question means nothing.</content>
internal static partial class CoreText
{
    public const string WithinPrintScatterNotPossible = "The scatter within a print must lie above 0 and at most at 1000 per cent.";
    public const string BetweenPrintScatterNotPossible = "The scatter between prints must lie between 0 and 1000 per cent.";
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

    private static string Planned(int prints, int specimens) => string.Create(
        CultureInfo.InvariantCulture, $"{prints} print{(prints == 1 ? "" : "s")} a group with {specimens} specimen{(specimens == 1 ? "" : "s")} each");
}
