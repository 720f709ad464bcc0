using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;

namespace RigDaq.Reports.Text;

/// <content>The sections of a study's report.</content>
internal static partial class ReportText
{
    public const string None = "–";
    public const string ClaimHeading = "What was found";
    public const string FiguresHeading = "The figures";
    public const string NotShownHeading = "What these figures do not show";
    public const string MethodHeading = "How it was done";
    public const string CalibrationHeading = "The calibration";
    public const string RunsHeading = "Every run";
    public const string FormalHeading = "What a formal test report would need";
    public const string RepeatHeading = "To repeat it";
    public const string StudyId = "study";
    public const string OrderSeed = "seed of the order of breaking";
    public const string ProgramVersion = "program";
    public const string Written = "report written";
    public const string Device = "device";
    public const string WithinMargin = ", by less than the margin";
    public const string ComparisonsCaption = "Comparisons";

    public const string Simulated =
        "These runs come from a virtual rig, a rig made of equations. Nothing here was measured, and nothing follows for a real material.";

    public const string Extrapolated =
        "Extrapolated: some strengths rest on forces beyond twice the greatest reference force of the calibration. Comparisons between groups suffer " +
        "less from that than the strengths themselves.";

    public const string NothingCompared = "There are not yet two groups with strengths to compare.";

    public const string Recorded = "Read from files";

    public static string RecordedWords(int recorded, int of) => $"{recorded} of {of} runs, recorded by other programs; how they were pulled is not known here";

    public static string RecordedRuns(int recorded, int of) =>
        $"{recorded} of {of} runs were read from files of other programs, without a calibration of ours: their forces are as the files have them, and no uncertainty here holds that of those forces.";

    public const string NoCalibration =
        "The calibration that the runs name is not at hand, so nothing can be said of how good the forces are.";

    public const string SeveralCalibrations =
        "The runs rest on more than one calibration. Then the calibrations' own uncertainty does not cancel when groups are compared.";

    public const string OwnCheck =
        "What is said here is the rig's own check with known forces. It is no accredited verification.";

    public const string NoRuns = "Nothing has been pulled yet.";

    public const string OnePrint =
        "Where a group is one print, verdict and interval concern that print. Another print of the same settings may differ: with a tenth of the variance between " +
        "prints, a true nothing is called different in about a quarter of such comparisons.";

    public static string[] NeverShown(bool allRecorded) =>
    [
        allRecorded
            ? "How these specimens were pulled, at which speed and in which room, is not in their files. Other speeds, temperatures and moisture give other strengths."
            : "Strength was measured as pulled on this rig, at one speed, in the room as it was. Other speeds, temperatures and moisture give other strengths.",
        "A specimen cut from a print has the print's own defects: the figures are of these prints, not of the filament as a substance.",
        "No strain was measured at the specimen, so there is no modulus here.",
    ];

    public const string FormalIntroduction =
        "This report is no test report by ISO 527-1. Such a report needs, among other things (from memory; the standard is right where this list is not):";

    public static readonly string[] FormalItems =
    [
        "the type and preparation of the specimen by the part of the standard that applies; here pieces are cut from prints",
        "conditioning and testing in a standard atmosphere (ISO 291), with the times",
        "a force-measuring system verified to ISO 7500-1 by a body that is competent to",
        "an extensometer verified to ISO 9513, where strains or a modulus are given",
        "the accuracy grading of the testing machine, and its grips",
        "complete identification of the material: type, source, maker's code, form, history",
    ];

    public const string PaletteSource =
        "Colours: Okabe and Ito, Color Universal Design, 2008; conditions and materials differ by shape as well.";

    public const string RunsNote =
        "± is the expanded uncertainty (k = 2) of that one strength: force, calibration and section. × and “left out” runs do not enter the group's figures.";

    private static string Counted(int count, string what) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{count} {what}{(count == 1 ? "" : "s")}");

    public static string Subtitle(StudyReportModel model)
    {
        int prints = model.Study.Prints.Count;
        string when = "";
        if (model.Runs.Count > 0)
        {
            string first = Day(model.Runs.Min(run => run.Head.StartedAt)), last = Day(model.Runs.Max(run => run.EndedAt));
            string what = model.AllRecorded ? "read from files" : "pulled";
            when = first == last ? $" · {what} {first}" : $" · {what} {first} to {last}";
        }

        string[] measured = [.. new[] { (model.Runs.Count, "run"), (model.Study.Imported.Count, "imported strength") }
            .Where((part, i) => part.Item1 > 0 || (i == 0 && model.Study.Imported.Count == 0)).Select(part => Counted(part.Item1, part.Item2))];
        return $"{string.Join(" and ", measured)} of {Counted(model.Study.Specimens.Count, "specimen")} from {Counted(prints, "print")}{when}";
    }

    public static string HowClaimed(StudyReportModel model, int comparisons) =>
        $"Different means: p below {Number((100 - model.ConfidencePercent) / 100)} after Holm's correction over {comparisons} comparison{(comparisons == 1 ? "" : "s")}. Equivalent means: " +
        $"shown to differ by less than ±{Number(model.Study.EquivalenceMarginPercent)} %. Not resolved means neither: no difference was shown, and no sameness.";

    public static string GroupsCaption(double confidencePercent) => $"Groups, with {Number(confidencePercent)} % intervals of the mean";

    public static string GroupsNote(ComparisonAnswer answer, Units units)
    {
        string[] outliers = [.. answer.Groups.Where(group => group.Grubbs is { Outlying: true }).Select(group =>
            $"{group.Material}, {group.Condition}{(group.Setting is { } setting ? $", {setting.ToString(System.Globalization.CultureInfo.InvariantCulture)}" : "")}: {units.Stress.Text(group.Grubbs!.Value, 2)}")];
        string note = "SD: standard deviation of all specimens (n − 1). CV: the same in per cent of the mean.";
        return outliers.Length == 0
            ? note + " Grubbs' test finds no outlier."
            : note + $" Grubbs' test calls these outlying; they are kept: {string.Join("; ", outliers)}.";
    }

    public static string ComparisonsNote(StudyReportModel model) =>
        $"In brackets the {Number(model.ConfidencePercent)} % interval, not adjusted for the number of comparisons. Could have seen: the smallest true difference that this comparison " +
        "would call different four times out of five, taken alone.";

    public static string GroupsInWords(Study study)
    {
        int groups = study.Groups().Count;
        return $"{groups}, each a material in a condition at one {study.SettingName}; {study.Prints.Count} prints, {study.Specimens.Count} specimens";
    }

    public static string OrderInWords(Study study) => string.Create(
        System.Globalization.CultureInfo.InvariantCulture, $"in blocks with one specimen of every stretch of every print, shuffled with the seed {study.Seed}, so that drift cannot pose as an effect");

    public static string SectionBasisWords(Study study) => study.SectionBasis switch
    {
        SectionBasis.PerSpecimen => "each specimen's own",
        SectionBasis.PerGroup => "the mean of the group",
        SectionBasis.ReferenceSetting =>
            $"that of the group at {GroupKey.SettingText(study.ReferenceSetting, study.SettingUnit)}, for the whole material: over- and under-extrusion show up as strength",
        _ => study.SectionBasis.ToString(),
    };

    public static string BreakInWords(IReadOnlyList<PullSettings> settings) =>
        $"a fall below {string.Join(" or ", settings.Select(s => Number(s.Detection.RemainingPercent)).Distinct())} % of the greatest force so far that does not recover";

    public static string RatesInWords(IReadOnlyList<double> rates) =>
        rates.Max() - rates.Min() < 0.5 ? $"{Number(rates.Average(), 0)} a second" : $"{Number(rates.Min(), 0)} to {Number(rates.Max(), 0)} a second";

    public static string UnderReadInWords(double worstPercent) =>
        $"the true peak can have been higher by at most {Number(worstPercent, worstPercent < 0.95 ? 2 : 1)} % (the worst run)";

    public static string StrengthUncertaintyInWords(double worstPercent) => $"at most ±{Number(worstPercent, 1)} % (k = 2), from the calibration to the caliper (its budget stands below)";

    public static IReadOnlyList<string> HowComputed(StudyReportModel model) =>
    [
        "Tensile strength is the greatest force over the section (ISO 527-1). The greatest force is estimated from the unfiltered samples with wild conversions taken out.",
        model.Answer.Answer is { } answer && answer.Comparisons.Any(comparison => comparison.Method == Methods.Prints)
            ? "Where both groups have two prints or more, the mean of a print is the datum, and the variance of print means is pooled over all groups. Elsewhere: Welch's test on specimens."
            : "Groups are compared by Welch's test on specimens; the interval of the change in per cent is Fieller's.",
        "Equivalence is shown by two one-sided tests (Schuirmann 1987).",
        "The calibration's share of the uncertainty is the same for all groups under one calibration: it is left out when they are compared, and belongs to the absolute figures.",
        "Outliers (Grubbs) are reported and never removed. A run is left out only by a person, with a reason.",
    ];

    public static string RunsCaption(int runs, bool allRecorded) =>
        runs == 1 ? "One run" : $"{Number(runs)} runs in the order they were {(allRecorded ? "read from files" : "pulled")}";

    public static string LeftOut(RunVoid left)
    {
        string kind = left.Kind.Spoken();
        return left.Text.Length == 0 ? $"left out: {kind}" : $"left out: {kind} ({left.Text})";
    }

    public static string Revised(Run run) => run.RevisionReason.Length == 0
        ? $"revision {run.Revision}"
        : $"revision {run.Revision}: {run.RevisionReason}";

    public static string DeviceWords(RigDevice device) =>
        $"{device.Name}, {device.Id}, firmware {device.FirmwareVersion}{(device.Simulated ? ", virtual" : "")}";

    public static string Or(double? value, int decimals) => value is { } number && double.IsFinite(number) ? Number(number, decimals) : None;

    public static string Probability(double? p) => p switch
    {
        null => None,
        < 0.0001 => "<\u00a00.0001",
        < 0.001 and { } small => Number(small, 4),
        { } other => Number(other, 3),
    };

    public static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    public static string ShortMoment(DateTimeOffset at) => at.ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);

    public static string Moment(DateTimeOffset at) => at.ToString("yyyy-MM-dd HH:mm zzz", System.Globalization.CultureInfo.InvariantCulture);
}
