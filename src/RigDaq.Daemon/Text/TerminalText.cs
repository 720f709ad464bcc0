using System.Globalization;
using RigDaq.Core.Safety;
using RigDaq.Text;

namespace RigDaq.Daemon.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class TerminalText
{
    // A curve fitted to readings: the command, its options, and what it prints.

    public static Sentence FitAtLine(string force, string expanded, string unit, string percent, double factor) =>
        FitAtLineText($"{force,13}", unit, expanded, percent, factor);

    public static string FitAtPart(string name, string sharePercent) => $"                     {sharePercent,5} %  {name}";

    /// <summary>The heads of the table of steps; its columns are as wide as these.</summary>
    public static Sentence FitStepHeads(string unit) => FitStepHeadsText($"{"reference " + unit,13}");

    // Readings at known forces and weights from a CSV file: what is wrong with a row.

    public static Sentence WeightsSetNotThere(string set, IReadOnlyList<string> kept) => WeightsSetNotThereText(set, kept.Count > 0, kept);

    // Whether the machine is ready: the command, each thing that is looked at, and its remedy.

    public static Sentence CheckConformance(string outcome, int section, string check, string detail) =>
        CheckConformanceText($"{outcome,-12}", section, check, detail.Length > 0, detail);

    // Groups compared from a table: the command, its options, the table of groups, and what is wrong with a row.

    public static Sentence ComparePrintsOverSettings(IReadOnlyList<string> names, int more) =>
        ComparePrintsOverSettingsText(Listed(names, more));

    public static Sentence ComparePrintsOverConditions(IReadOnlyList<string> names, int more) =>
        ComparePrintsOverConditionsText(Listed(names, more));

    /// <summary>The scatter that the model found.</summary>
    /// <param name="print">Between prints, in per cent; null where it is not known.</param>
    /// <param name="stretch">Of stretches, in per cent; null where it is not known.</param>
    /// <param name="specimen">Of specimens, in per cent.</param>
    /// <param name="prints">How many prints.</param>
    public static Sentence CompareScatter(string? print, string? stretch, string specimen, int prints) =>
        CompareScatterText(prints, Known(print), Known(stretch), specimen);

    private static Sentence Listed(IReadOnlyList<string> names, int more) => ListedText(names.Select(name => $"“{name}”"), more > 0, more);

    public static Sentence CompareReferenceNotThere(string file, string column, string reference, IEnumerable<string> names) =>
        CompareReferenceNotThereText(file, column, reference, names.Select(name => $"“{name}”"));

    /// <param name="file">The file.</param>
    /// <param name="shown">The first of the lines.</param>
    /// <param name="more">How many there are beside them.</param>
    /// <param name="what">What is odd about them.</param>
    public static Sentence CompareOddRows(string file, IReadOnlyList<int> shown, int more, string what) =>
        CompareOddRowsText(file, shown.Count > 1, string.Join(", ", shown), more > 0, more, what);

    // How far the machine gives: the commands, and what was measured.

    public static Sentence ComplianceHead(string? id, DateTimeOffset? measuredAt, string? device) =>
        ComplianceHeadText(id, measuredAt, device);

    public static Sentence ComplianceGive(double millimetresPerNewton, double standardUncertaintyMillimetresPerNewton) =>
        ComplianceGiveText(1000 * millimetresPerNewton, 1000 * standardUncertaintyMillimetresPerNewton, 1 / millimetresPerNewton);

    public static Sentence ComplianceScatter(double millimetres, double lowerMillimetresPerNewton, double upperMillimetresPerNewton) =>
        ComplianceScatterText(1000 * millimetres, 1000 * lowerMillimetresPerNewton, 1000 * upperMillimetresPerNewton);

    public static Sentence ComplianceOfBar(double millimetresPerNewton) => ComplianceOfBarText(1000 * millimetresPerNewton);

    // The pulls on a stiff bar: the command, its cautions, and what it asks at the rig.

    public static Sentence MeasureUnloaded(double? newtons) => MeasureUnloadedText(newtons ?? 0);

    public static Sentence MeasurePulled(int pull, double millimetresPerNewton, double toNewtons, bool beds) =>
        MeasurePulledText(pull, 1000 * millimetresPerNewton, toNewtons, beds);

    public static string MeasureSource(int pulls) => pulls switch
    {
        1 => MeasureSource1Text,
        2 => MeasureSource2Text,
        _ => MeasureSourceOtherwiseText(pulls - 1),
    };

    // Recordings that other programs wrote: options, how they were read, layouts that are kept.

    public static string PreviewRow(string cells) => $"    {cells}";

    public static string TraceCurve(string file, string curve) => $"{file}, {curve}";

    /// <summary>How the text of a file was read.</summary>
    public static string TraceReadAs(string encoding, string? sheet, string? separator, string decimalMark, int? headerLine, int? firstLine)
    {
        string text = sheet is not null ? TraceReadAsText(sheet) : TraceReadAsText2(encoding, separator, decimalMark == ",");
        string header = headerLine is { } line ? TraceReadAsText3(line) : TraceReadAsText4;
        return TraceReadAsText5(text, header, firstLine);
    }

    public static Sentence TraceReadColumn(string role, int number, string name, string unit, string why) =>
        TraceReadColumnText(role, number, name.Length > 0, name, unit.Length > 0, unit, why);

    public static Sentence TraceTimesFrom(string what) => TraceTimesFromText(what == "rate");

    // The demo: the command, what it says while it runs, and what its invented study is called.

    public static string DemoEnding(int runs, string ending) => $"{runs} {ending}";

    public static Sentence DemoWeight(double kilograms) => DemoWeightText(kilograms);

    public static string DemoWeight(double kilograms, int number) => DemoWeightText2(kilograms, number);

    public static Sentence DemoBreaking(int specimens, int groups) => DemoBreakingText(SpecimensOf(specimens), groups);

    /// <summary>How far the sequence is, in columns.</summary>
    public static Sentence DemoProgress(int done, int specimens, string specimen, string ending, string strength)
        => DemoProgressText($"{done,4}", specimens, $"{specimen,-12}", ending, strength);

    // The first start: the command, its cautions, and what it asks at the rig.

    // Typed by a person, the same in every language.
    public const string FirstStartSayAcknowledge = "acknowledge", FirstStartSayGo = "go", FirstStartSayGone = "gone";

    public static Sentence FirstStartReadsWorked(string contact) => FirstStartReadsWorkedText(Begin(contact));

    public static Sentence FirstStartAlwaysWorked(string contact) => FirstStartAlwaysWorkedText(Begin(contact));

    public static Sentence FirstStartStays(string contact) => FirstStartStaysText(Begin(contact));

    public static Sentence FirstStartAlone(string contact) => FirstStartAloneText(Begin(contact));

    public static Sentence FirstStartHasNone(string what) => FirstStartHasNoneText(what.Length > 0, what);

    public static Sentence FirstStartWentWrong(string way, string? seen) =>
        FirstStartWentWrongText(string.IsNullOrEmpty(seen) || seen.Equals("none", StringComparison.OrdinalIgnoreCase), way, seen);

    public static Sentence FirstStartLimitHeld(string limit) => FirstStartLimitHeldText(Begin(limit));

    public static Sentence FirstStartOtherFault(IReadOnlyList<Sentence> faults) => FirstStartOtherFaultText(faults.Count > 0, faults);

    public static Sentence FirstStartDoesNotMove(string words) => FirstStartDoesNotMoveText(words.Length > 0, words);

    public static Sentence FirstStartFound(FirstStartFinding finding)
        => Sentence.Verbatim($"{FirstStartOutcomeOf(finding.Outcome)}: {FirstStartStepOf(finding.Step)}. {finding.Detail}");

    private static string Begin(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    // The guided calibration in the terminal: the command, its options, and what it says beside the guide's own words.

    public static Sentence GuideInForce(string calibration, DateTimeOffset until) => GuideInForceText(calibration, until);

    // Options and arguments that several commands have, and what is wrong with them.

    public static Sentence OptionStudyNotThere(string study, IReadOnlyList<string> known) =>
        OptionStudyNotThereText(study, known.Count > 0, known);

    // Where the uncertainty of a strength comes from.

    public static string OriginsGain(string advice, string percent) => $"  ± {percent} %  {advice}";

    // Studies that leave and come: data packages, pictures, reports, backups, the database made anew.

    public static Sentence ExportPhotos(int photos, long bytes) => ExportPhotosText(photos, bytes / 1e6);

    public static Sentence RebuildSetAside(IReadOnlyList<string> names) => RebuildSetAsideText(names.Count > 0, names);

    // The running daemon: the command, and what it says while it runs.

    public static Sentence ServeDashboard(Uri address) => ServeDashboardText(address);

    /// <summary>An alarm's text: a pull that told nothing of its specimen.</summary>
    public static string ServeOddEnding(string specimen, string ending, string? reason) =>
        ServeOddEndingPartText(specimen, ending, reason).AsKept().TrimEnd();

    // What the commands of a study have in common.

    public static Sentence StudyNotThere(string id, IReadOnlyList<string> known) => StudyNotThereText(id, known.Count > 0, known);

    // Earlier results and the control.

    public static string EarlierStudyHead(string id, string name, DateTimeOffset? from, DateTimeOffset? to, bool fromElsewhere,
        bool simulated)
    {
        string when = from is { } first && to is { } last
            ? (Day(first) == Day(last) ? Day(first) : EarlierStudyHeadText(Day(first), Day(last))) : "";
        return string
            .Join("  ", new[] { id, when, name, fromElsewhere ? EarlierStudyHeadText2 : "", simulated ? EarlierStudyHeadText3
            : "" }.Where(part => part.Length > 0));
    }

    public static Sentence EarlierGroup(string group, string mean, double? variation, int n, int prints, int imported, bool control) =>
        EarlierGroupText(group, mean, variation, n, prints, imported > 0, imported, control);

    public static string EarlierCalibrations(IReadOnlyList<(string Id, double? Percent)> calibrations)
        => calibrations.Count == 0 ? EarlierCalibrationsText
        : string.Join("; ",
        calibrations.Select(c => EarlierCalibrationsPartText2(c.Id, c.Percent is { } percent ? EarlierCalibrationsPartText(percent) : "")));

    public static string ControlSession(DateTimeOffset? at, string study, int n, int imported, string mean, string? half, double? change,
        bool outside) => string.Create(
        CultureInfo.InvariantCulture,
        $"{(at is { } day ? Day(day) : ControlSessionPartText)}  {study}: {mean}{(half is null ? "" : $" ± {half}")}, {n} specimen{(n == 1 ? "" : "s")}{(imported > 0 ? ControlSessionPartText2(imported) : "")}{(change is { } c ? ControlSessionPartText3(c) : "")}{(outside ? ControlSessionPartText4 : "")}");

    private static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    // Sections measured by keyboard or by a caliper that types.

    public static Sentence StudyMeasuredTotal(int specimens, int revisedRuns) =>
        StudyMeasuredTotalText(specimens, revisedRuns > 0, revisedRuns);

    // What belongs to a study's prints and pieces: labels, records of printing, photos and looks, strengths from a table.

    public static Sentence StudyImported(int strengths, string file, string? pooled) =>
        StudyImportedText(StrengthsOf(strengths), file, string.IsNullOrWhiteSpace(pooled) ? "" : StudyImportedPartText(pooled.Trim()));

    public static Sentence StudyImportNewPrint(string print, string group, int specimens) =>
        StudyImportNewPrintText(print, group, SpecimensOf(specimens));

    public static Sentence StudyImportJoined(int strengths) => StudyImportJoinedText(StrengthsOf(strengths));

    public static Sentence StudyImportWouldJoin(int strengths, bool canBe) => StudyImportWouldJoinText(StrengthsOf(strengths), canBe);

    // What a plan resolves, and what a wanted resolution needs.

    public static string StudyPlanOutlook(string sentence) => $"  {sentence}";

    public static Sentence StudyPlanSpecimensNeeded(int prints, string difference, int specimens) =>
        StudyPlanSpecimensNeededText(PrintsOf(prints), difference, SpecimensOf(specimens));

    public static Sentence StudyPlanNoSpecimensEnough(int prints, string difference) =>
        StudyPlanNoSpecimensEnoughText(PrintsOf(prints), difference);

    public static Sentence StudyPlanPrintsNeeded(int specimens, string difference, int prints) =>
        StudyPlanPrintsNeededText(SpecimensOf(specimens), difference, prints);

    public static Sentence StudyPlanNoPrintsEnough(int specimens, string difference, int printsMax) =>
        StudyPlanNoPrintsEnoughText(SpecimensOf(specimens), printsMax, difference);

    // A study's plan and how far it has come.

    public const string StudyShowQuestionEnd = ":";
    public const string StudyShowSeenAfterwards = " *";

    public static Sentence StudyShowPlan(DateTimeOffset made, int specimens, int prints, double marginPercent, string? reference,
        DateTimeOffset? frozen) => StudyShowPlanText(made, specimens, prints, marginPercent, reference, frozen);

    /// <param name="group">The group.</param>
    /// <param name="planned">How many specimens it is to have.</param>
    /// <param name="endings">How its pulls ended, or that there were none.</param>
    /// <param name="imported">How many strengths of it came from a table.</param>
    /// <param name="voided">How many runs were left out.</param>
    /// <param name="mean">The mean strength with its unit; null without one.</param>
    public static Sentence StudyShowGroup(string group, int planned, string endings, int imported, int voided, string? mean) =>
        StudyShowGroupText(group, planned, endings, imported > 0, imported, voided > 0, voided, mean);

    // Recorded traces: the command, what was read from them, and what is wrong with a file.

    public static string TraceHead(string file, string ending, string? fracture)
        => $"{file}: {ending}{(fracture is null ? "" : ", " + fracture)}";
}
