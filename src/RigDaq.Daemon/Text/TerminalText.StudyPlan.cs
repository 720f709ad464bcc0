namespace RigDaq.Daemon.Text;

/// <content>What a plan resolves, and what a wanted resolution needs.</content>
internal static partial class TerminalText
{
    public const string StudyPlanCommand = "What a plan resolves, and how many specimens or prints a wanted resolution needs.";
    public const string StudyPlanWithin = "The expected standard deviation of specimens within a print, in per cent of the mean.";
    public const string StudyPlanBetween = "The expected standard deviation of print means, in per cent of the mean.";
    public const string StudyPlanStudy = "A study that was made: it says its settings, groups, prints, specimens and comparisons.";
    public const string StudyPlanStretch = "The expected standard deviation of a stretch (one setting on one print) beyond its print, in per cent of the mean.";
    public const string StudyPlanSettings = "Settings that every print holds.";
    public const string StudyPlanPrints = "Prints of a material and condition.";
    public const string StudyPlanSpecimens = "Specimens of a print at each setting.";
    public const string StudyPlanGroups = "Groups in the study.";
    public const string StudyPlanComparisons = "Planned comparisons.";
    public const string StudyPlanConfidence = "The confidence of intervals, in per cent.";
    public const string StudyPlanDifference = "The difference to be told apart, in per cent of the mean.";

    public static string StudyPlanOutlook(string sentence) => $"  {sentence}";

    public static string StudyPlanSpecimensNeeded(int prints, string difference, int specimens) =>
        $"With {PrintsOf(prints)} a group, {difference} needs {SpecimensOf(specimens)} from each.";

    public static string StudyPlanNoSpecimensEnough(int prints, string difference) =>
        $"With {PrintsOf(prints)} a group no number of specimens resolves {difference}: the prints themselves scatter too much.";

    public static string StudyPlanPrintsNeeded(int specimens, string difference, int prints) =>
        $"With {SpecimensOf(specimens)} a print, {difference} needs {prints} prints a group, for a claim about prints made alike.";

    public static string StudyPlanNoPrintsEnough(int specimens, string difference, int printsMax) =>
        $"With {SpecimensOf(specimens)} a print, {printsMax} prints do not resolve {difference}.";

    public static string StudyPlanNothingCompared(string study) => $"{study} compares no two groups, or has no specimens: there is nothing to plan for.";

    private static string PrintsOf(int count) => $"{count} print{(count == 1 ? "" : "s")}";

    private static string SpecimensOf(int count) => $"{count} specimen{(count == 1 ? "" : "s")}";
}
