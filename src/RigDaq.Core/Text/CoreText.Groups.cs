namespace RigDaq.Core.Text;

/// <content>The groups of a comparison: what their figures lack, which of them cannot be set against each other.</content>
internal static partial class CoreText
{
    public const string ComparisonIntervalsUnadjusted =
        "Intervals are unadjusted: each stands for its own comparison; only the verdicts take the number of comparisons into account (Holm).";

    public const string GroupsOfOnePrint = "Each group is one print: verdicts and intervals concern these prints only, not other prints made alike.";

    public static string OnePrintOnly(IEnumerable<string> groups) => $"One print only in {string.Join("; ", groups)}: what is said of them concerns these prints only.";

    public static string FewDegreesBetweenPrints(int degreesOfFreedom) =>
        $"The variance between prints rests on {degreesOfFreedom} degree{(degreesOfFreedom == 1 ? "" : "s")} of freedom: intervals are wide; another print helps more than further specimens.";

    public static string GroupOfOneSpecimen(string group) => $"{group}: one specimen only, so no scatter and no interval.";

    public static string GroupConstant(string group, int values) =>
        $"{group}: all {values} values are the same, so there is no interval; real specimens scatter: were they rounded or copied?";

    public static string GroupMeanNotAboveZero(string group) => $"{group}: the mean is not above 0, so nothing can be given in per cent of it.";

    public static string GroupPrintsConstant(string group) => $"{group}: the print means do not scatter at all, so there is no interval.";

    public static string GroupTooStrong(string group, string mean) =>
        $"{group}: a mean of {mean} is more than layers of a desktop print usually hold; look at the section and the calibration.";

    public static string GroupTooSmallForOutliers(string group) => $"{group}: two specimens are too few to test for an outlier.";

    public static string ReferenceSettingWithoutSpecimens(string material, string condition, string setting) =>
        $"{material}, {condition} has no specimens at the reference setting {setting}: retained strength is relative to its lowest setting.";

    public static string PlannedCannotBeMade(string place, string condition, string reference, IEnumerable<string> missing) =>
        $"{place}: the planned comparison of {condition} with {reference} cannot be made, because there is no strength for {string.Join(" and ", missing)}.";

    public static string OutsidePlan(IEnumerable<string> groups) => $"Not in the plan, so described but not compared: {string.Join("; ", groups)}.";

    public static string ReferenceAbsent(string group, string reference) => $"{group}: no comparison, because the reference condition {reference} is absent there.";

    public static string SettingsNotMeasured(string material, string condition, IEnumerable<string> settings) =>
        $"{material}: {condition} was not measured at {string.Join(", ", settings)}, where another condition was; settings are unequal.";

    public static string PairTooSmall(string group, string reference) =>
        $"{Pair(group, reference)}: a group has fewer than two specimens, so the difference has no interval and no test.";

    public static string PairConstant(string group, string reference) =>
        $"{Pair(group, reference)}: neither group scatters, so the difference has no interval and no test.";

    public static string PairPercentUnbounded(string group, string reference) =>
        $"{Pair(group, reference)}: the reference mean cannot be told from 0, so the interval in per cent is unbounded (Fieller).";

    public static string PairOfUnequalPrints(string group, string reference) =>
        $"{Pair(group, reference)}: one of the two has one print only, so single specimens are compared (Welch), and what is said concerns these prints only.";

    public static string MaterialsAlike(IEnumerable<string> names) => KeptApart("materials", names);

    public static string ConditionsAlike(IEnumerable<string> names) => KeptApart("conditions", names);

    public static string PrintsAlike(IEnumerable<string> names) => KeptApart("prints", names);

    private static string KeptApart(string what, IEnumerable<string> names) =>
        $"The {what} {QuotedAlike(names)} differ only by spaces or capitals and are kept apart; spell them alike if they are the same.";

    private static string Pair(string group, string reference) => $"{group} with {reference}";
}
