using RigDaq.Core.Quantities;
using RigDaq.Core.Uncertainty;

namespace RigDaq.Reports.Text;

/// <content>Where the uncertainty of one strength comes from.</content>
internal static partial class ReportText
{
    public const string OriginsHeading = "Where the uncertainty of one strength comes from";
    public const string OriginsAxis = "share of the variance in %";
    public const string OriginsRest = "all others";
    public const string OriginsCaption = "The budget of that strength, end to end, the greatest first";
    public const string OriginsTableNote = "Relative uncertainties of a quotient add in squares (JCGM 100, 5.1.6). Assumed: nothing was entered and a usual value was taken.";
    public const string OriginColumn = "where it comes in";
    public const string OriginNameColumn = "source";
    public const string OriginStandardColumn = "standard, %";
    public const string OriginShareColumn = "share, %";
    public const string OriginAssumedColumn = "assumed";
    public const string OriginsGainsLead = "What would shrink it most:";
    public const string OriginIsAssumed = "yes";
    public const string OriginsGroupsCaption = "The same for each group: of the run with the group's middle strength, the ± and from where on the way it comes";
    public const string OriginsGroupsNote = "Shares in per cent of the variance. Where they differ little, what helps one group helps all.";
    public const string OriginsExpandedColumn = "± %, k = 2";
    public const string OriginsGainColumn = "would shrink it most";

    public static string OriginsTitle(bool ofStrength) => ofStrength ? "Where the uncertainty of a strength comes from" : "Where the uncertainty of a force comes from";

    public static string OriginAssumed(string name) => name + " (assumed)";

    public static string OriginsNote(UncertaintyOrigins origins) => FormattableString.Invariant(
        $"at {origins.ForceNewtons:0.#} N: ± {NumberText.Significant(origins.ExpandedPercent, 2)} % (k = 2) · pale: nothing was entered, a usual value was assumed");

    public static string OriginsDescription(UncertaintyOrigins origins) => FormattableString.Invariant(
        $"At {origins.ForceNewtons:0.#} N ± {NumberText.Significant(origins.ExpandedPercent, 2)} % (k = 2). Shares of the variance: ")
        + string.Join("; ", origins.Origins.Select(origin => FormattableString.Invariant($"{(origin.IsAssumed ? OriginAssumed(origin.Name) : origin.Name)} {origin.SharePercent:0.#} %"))) + ".";

    public static string OriginsOfRun(string specimen, string strength, string expanded, double percent) =>
        $"Specimen {specimen} has the middle one of the strengths: {strength} ± {expanded}, which is {NumberText.Significant(percent, 2)} % (k = 2).";

    public static string OriginsOfBefore =>
        "Its run was kept before caliper and alignment were: the ± of the runs leaves them out; here they stand with what is usually assumed.";

    public static string OriginGain(string advice, double percent) => $"{advice}: ± {NumberText.Significant(percent, 2)} %";

    public static string StageShare(UncertaintyStage stage) => $"{Stage(stage)}, %";

    public static string Stage(UncertaintyStage stage) => stage switch
    {
        UncertaintyStage.Calibration => "calibration",
        UncertaintyStage.Zero => "zero",
        UncertaintyStage.Peak => "peak",
        UncertaintyStage.Section => "section",
        UncertaintyStage.Caliper => "caliper",
        UncertaintyStage.Alignment => "alignment",
        _ => stage.ToString(),
    };
}
