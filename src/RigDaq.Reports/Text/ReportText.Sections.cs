using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Reports.Model;

namespace RigDaq.Reports.Text;

/// <content>The sections of a study’s report.</content>
internal static partial class ReportText
{
    // The sections of a study's report.

    public const string None = "–";

    public static string[] NeverShown(bool allRecorded) =>
    [
        allRecorded
            ? NeverShownText
            : NeverShownOtherConditions,
        NeverShownOfTheSubstance,
        NeverShownModulus,
    ];

    public static string[] FormalItems => [FormalItem, FormalItem2, FormalItem3, FormalItem4, FormalItem5, FormalItem6];

    public static string Subtitle(StudyReportModel model)
    {
        int prints = model.Study.Prints.Count;
        string when = "";
        if (model.Runs.Count > 0)
        {
            string first = Day(model.Runs.Min(run => run.Head.StartedAt)), last = Day(model.Runs.Max(run => run.EndedAt));
            string what = model.AllRecorded ? SubtitleText : SubtitlePulled;
            when = first == last ? $" · {what} {first}" : SubtitleWhen(what, first, last);
        }

        string[] measured = [.. new[] { (model.Runs.Count, SubtitleRun), (model.Study.Imported.Count, SubtitleImportedStrength) }
            .Where((part, i) => part.Item1 > 0 || (i == 0 && model.Study.Imported.Count == 0))
                .Select(part => Counted(part.Item1, part.Item2))];
        return SubtitleWhole(measured, Counted(model.Study.Specimens.Count, SubtitlePartText), Counted(prints, SubtitlePrint), when);
    }

    public static string HowClaimed(StudyReportModel model, int comparisons) =>
        HowClaimedText(Number((100 - model.ConfidencePercent) / 100), comparisons, Number(model.Study.EquivalenceMarginPercent));

    public static string GroupsCaption(double confidencePercent) => GroupsCaptionText(Number(confidencePercent));

    public static string GroupsNote(ComparisonAnswer answer, Units units)
    {
        string[] outliers = [.. answer.Groups.Where(group => group.Grubbs is { Outlying: true }).Select(group =>
            $"{group.Material}, {group.Condition}{(group.Setting is { } setting ? $", {setting.ToString(System.Globalization.CultureInfo.InvariantCulture)}" : "")}: {units.Stress.Text(group.Grubbs!.Value, 2)}")];
        string note = GroupsNoteText;
        return outliers.Length == 0 ? GroupsNoteNoOutlier(note) : GroupsNoteOutliers(note, outliers);
    }

    public static string ComparisonsNote(StudyReportModel model) => ComparisonsNoteText(Number(model.ConfidencePercent));

    public static string GroupsInWords(Study study)
    {
        int groups = study.Groups().Count;
        return GroupsInWordsText(groups, study.SettingName, study.Prints.Count, study.Specimens.Count);
    }

    public static string OrderInWords(Study study) => OrderInWordsText(study.Seed);

    public static string SectionBasisWords(Study study) => study.SectionBasis switch
    {
        SectionBasis.PerSpecimen => SectionBasisWordsPerSpecimenText,
        SectionBasis.PerGroup => SectionBasisWordsPerGroupText,
        SectionBasis.ReferenceSetting =>
            SectionBasisWordsReferenceSettingText(GroupKey.SettingText(study.ReferenceSetting, study.SettingUnit)),
        _ => study.SectionBasis.ToString(),
    };

    public static string BreakInWords(IReadOnlyList<PullSettings> settings) =>
        BreakInWordsText(settings.Select(s => Number(s.Detection.RemainingPercent)).Distinct());

    public static string RatesInWords(IReadOnlyList<double> rates) => rates.Max() - rates.Min() < 0.5
        ? RatesInWordsText(Number(rates.Average(), 0)) : RatesFromTo(Number(rates.Min(), 0), Number(rates.Max(), 0));

    public static string UnderReadInWords(double worstPercent) => UnderReadInWordsText(Number(worstPercent, worstPercent < 0.95 ? 2 : 1));

    public static string StrengthUncertaintyInWords(double worstPercent) => StrengthUncertaintyInWordsText(Number(worstPercent, 1));

    public static IReadOnlyList<string> HowComputed(StudyReportModel model) =>
    [
        HowComputedText,
        model.Answer.Answer is { } answer && answer.Comparisons.Any(comparison => comparison.Method == Methods.Prints)
            ? HowComputedByPrints
            : HowComputedBySpecimens,
        HowComputedEquivalence,
        HowComputedCalibration,
        HowComputedOutliers,
    ];

    public static string RunsCaption(int runs, bool allRecorded) =>
        runs == 1 ? RunsCaptionText : RunsCaptionInOrder(Number(runs), allRecorded);

    public static string LeftOut(RunVoid left)
    {
        string kind = left.Kind.Spoken();
        return left.Text.Length == 0 ? LeftOutText(kind) : LeftOutBecause(kind, left.Text);
    }

    public static string Revised(Run run) => RevisedText(run.RevisionReason.Length == 0, run.Revision, run.RevisionReason);

    public static string DeviceWords(RigDevice device) => DeviceWordsText(device.Name, device.Id, device.FirmwareVersion, device.Simulated);

    public static string Or(double? value, int decimals) => value is { } number && double.IsFinite(number) ? Number(number, decimals)
        : None;

    public static string Probability(double? p) => p switch
    {
        null => None,
        < 0.0001 => "<\u00a00.0001",
        < 0.001 and { } small => Number(small, 4),
        { } other => Number(other, 3),
    };

    public static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    public static string ShortMoment(DateTimeOffset at) =>
        at.ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);

    public static string Moment(DateTimeOffset at) =>
        at.ToString("yyyy-MM-dd HH:mm zzz", System.Globalization.CultureInfo.InvariantCulture);
}
