using System.Globalization;
using RigDaq.Text;

namespace RigDaq.Core.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class CoreText
{
    // The questions that people ask of their pieces, answered in sentences that may be published as they stand.

    public static Sentence AnswerDropOffsNotComparable((string Place, string First, string Second) pair, string setting) =>
        AnswerDropOffsNotComparableText(VerdictPlace(pair.Place), pair.First, pair.Second, setting);

    public static Sentence AnswerWithoutScatter(string place) =>
        AnswerWithoutScatterText(VerdictPlace(place));

    /// <summary>The whole answer.</summary>
    public static string Answer(string place, string statement, string scope) => $"{VerdictPlace(place)}{statement}. {scope}";

    public static Sentence AnswerNone(string place, SubjectNames subject) =>
        AnswerNoneText(VerdictPlace(place), Subject(subject));

    public static Sentence AnswerStronger(string first, string second, bool more, AnswerAmount amount) =>
        AnswerStrongerText(first, more, second, amount.Text);

    public static Sentence AnswerAverage(string first, string second, int settings, bool more, AnswerAmount amount) =>
        AnswerAverageText(settings, first, more, second, amount.Text);

    public static Sentence AnswerTrend(string first, string second, string from, string at, int? settings, bool more,
        AnswerAmount amount) =>
        AnswerTrendText(from, at, first, more, second, amount.Text, settings);

    public static Sentence AnswerDropOff(string at, string from, bool more, AnswerAmount amount) =>
        AnswerDropOffText(at, more, from, amount.Text);

    public static Sentence AnswerDropOffDifference(string first, string second, string from, string at, bool more, AnswerAmount amount) =>
        AnswerDropOffDifferenceText(from, at, first, more, second, amount.Text);

    public static Sentence AnswerEquivalent(SubjectNames subject, string margin, AnswerAmount amount) => subject.Kind switch
    {
        AnswerSubject.Trend
            => AnswerEquivalentTrendText(subject.First, subject.Second, subject.From, subject.At, margin, amount.Text,
            Line(subject.Settings)),
        AnswerSubject.DropOff => AnswerEquivalentDropOffText(subject.At, subject.From, margin, amount.Text),
        AnswerSubject.DropOffDifference
            => AnswerEquivalentDropOffDifferenceText(subject.From, subject.At, subject.First, subject.Second, margin, amount.Text),
        AnswerSubject.Average => AnswerEquivalentAverageText(subject.Settings, subject.First, subject.Second, margin, amount.Text),
        _ => AnswerEquivalentOtherwiseText(subject.First, subject.Second, margin, amount.Text),
    };

    public static Sentence AnswerNotResolved(SubjectNames subject, AnswerAmount amount) => subject.Kind switch
    {
        AnswerSubject.Trend
            => AnswerNotResolvedTrendText(subject.First, subject.Second, subject.From, subject.At, amount.Text, Line(subject.Settings)),
        AnswerSubject.DropOff => AnswerNotResolvedDropOffText(subject.At, subject.From, amount.Text),
        AnswerSubject.DropOffDifference
            => AnswerNotResolvedDropOffDifferenceText(subject.First, subject.Second, subject.From, subject.At, amount.Text),
        AnswerSubject.Average => AnswerNotResolvedAverageText(subject.Settings, subject.First, subject.Second, amount.Text),
        _ => AnswerNotResolvedOtherwiseText(subject.First, subject.Second, amount.Text),
    };

    /// <summary>Whose prints an answer speaks of.</summary>
    /// <param name="prints">Of each side.</param>
    /// <param name="stated">Whether the scatter between prints was stated, else it is that of earlier studies; null where the prints at
    /// hand show it.</param>
    public static Sentence AnswerAboutPrintsMadeAlike(IReadOnlyList<int> prints, bool? stated)
    {
        string count = string.Join(BetweenNumbersOfPrints, prints.Select(n => n.ToString(CultureInfo.InvariantCulture)));
        bool one = prints.Count == 1 && prints[0] == 1;
        Sentence from = stated is null ? Sentence.None : stated.Value ? WithStatedScatter : WithScatterOfEarlierStudies;
        return AnswerAboutPrintsMadeAlikeText(count, one, from);
    }

    public static Sentence AnswerKept(string keeps, string from, KeptFigures figures, string confidence) =>
        AnswerKeptText(keeps, from, figures.At, figures.Value, figures.Low, confidence);

    public static Sentence AnswerNotKept(string keeps, string from, KeptFigures figures, string confidence) =>
        AnswerNotKeptText(keeps, from, figures.At, figures.Value, figures.Low, confidence);

    public static Sentence AnswerKeptOneWay(bool up, KeptFigures figures, string? notFarther) =>
        AnswerKeptOneWayText(up, figures.At, figures.Value, figures.Low, notFarther);

    public static Sentence AnswerNotKeptOneWay(bool up, KeptFigures figures) =>
        AnswerNotKeptOneWayText(up, figures.At, figures.Value, figures.Low);

    public static Sentence AnswerAmongTheBest(string at, string other, AnswerAmount amount) =>
        AnswerAmongTheBestText(at, other, amount.Text);

    public static Sentence AnswerNotAmongTheBest(string at, string other, AnswerAmount amount) =>
        AnswerNotAmongTheBestText(at, other, amount.Text);

    public static Sentence AnswerProfileEquivalent(string first, string second, int settings, string margin, string at,
        AnswerAmount amount) =>
        AnswerProfileEquivalentText(first, second, margin, settings, at, amount.Text);

    public static Sentence AnswerProfileNotShown(string first, string second, int settings, string margin, string at,
        AnswerAmount amount) =>
        AnswerProfileNotShownText(first, second, margin, settings, at, amount.Text);

    public static Sentence AnswerEarlierDifferent(string study, bool more, AnswerAmount amount)
        => AnswerEarlierDifferentText(more, study, amount.Text);

    public static Sentence AnswerEarlierEquivalent(string study, string margin, AnswerAmount amount) =>
        AnswerEarlierEquivalentText(study, margin, amount.Text);

    public static Sentence AnswerEarlierNotResolved(string study, AnswerAmount amount) => AnswerEarlierNotResolvedText(study, amount.Text);

    public static string AnswerEarlierControl(bool? inBoth) => inBoth switch
    {
        true => AnswerEarlierControlTrueText,
        false => AnswerEarlierControlFalseText,
        null => "",
    };

    public static Sentence AnswerShare(string kind, int count, int total, AnswerAmount amount) =>
        AnswerShareText(count, total, kind, amount.Text);

    public static Sentence AnswerShareDifference(string kind, string first, string second, bool different, AnswerAmount amount)
        => AnswerShareDifferenceText(different, kind, first, second, amount.Points);

    public static Sentence AnswerNotPrintable(string place, int failed, int tried, IReadOnlyList<string> reasons)
    {
        string why = reasons.Count == 0 ? "" : $" ({string.Join("; ", reasons)})";
        return failed == tried
            ? AnswerNonePrinted(VerdictPlace(place), failed, tried, why)
            : AnswerSomeNotPrinted(VerdictPlace(place), failed, tried, why);
    }

    private static Sentence Subject(SubjectNames subject)
        => SubjectText(subject.Kind == AnswerSubject.DropOff, subject.At, subject.From, subject.First, subject.Second);

    // How good a calibration is: what the readings cannot carry, what is not known of them, the class, whether a curve is worth having.

    public static Sentence CalibrationOfOneCountResolution(double incrementCounts)
        => CalibrationOfOneCountResolutionText(incrementCounts > 1, incrementCounts);

    public static Sentence CalibrationOfTooFewForces(int degree, bool constant, int coefficients, int forcesMin, int forces) =>
        CalibrationOfTooFewForcesText(degree, constant, coefficients, coefficients > 1, forcesMin, forces, degree > 1);

    public static Sentence CalibrationReversibilityUnknownAt(IEnumerable<double> forcesNewtons) =>
        CalibrationReversibilityUnknownAtText(forcesNewtons.Select(force => ForceOfReading(force)));

    public static Sentence SecondDegreeWorthHaving(double changePercent, double p) =>
        SecondDegreeWorthHavingText(changePercent, p < 1e-4, p);

    // The record of a calibration as a document: title, facts, tables, how it was computed.

    public static Sentence DocumentCurve(int degree) =>
        DocumentCurveText(degree > 1, degree > 2);

    public static Sentence DocumentValidUntilDay(DateTimeOffset until) => DocumentValidUntilDayText(until);

    // Why a calibration does not hold, or soon will not.

    public static Sentence CalibrationEnded(DateTimeOffset on) => CalibrationEndedText(on);

    public static Sentence CalibrationEnds(DateTimeOffset on) => CalibrationEndsText(on);

    public static Sentence CalibrationInvalidated(Sentence what, DateTimeOffset at, Sentence why)
        => CalibrationInvalidatedText(what, at, why);

    // A machine's give: why it cannot be measured from a pull, and what to know of the line.

    /// <summary>The give of the two halves differs.</summary>
    /// <param name="lowerMillimetresPerNewton">Below the middle.</param>
    /// <param name="middleNewtons">The middle.</param>
    /// <param name="upperMillimetresPerNewton">Above it.</param>
    /// <param name="bendPercent">Lower less upper, in per cent of the whole.</param>
    public static Sentence ComplianceNotStraight(double lowerMillimetresPerNewton, double middleNewtons, double upperMillimetresPerNewton,
        double bendPercent) =>
        ComplianceNotStraightText(lowerMillimetresPerNewton, middleNewtons, upperMillimetresPerNewton, bendPercent, bendPercent > 0);

    // A run and its corrections: what its strength lacks, why a revision was made, what a correction cannot do.

    public static Sentence RecordedElsewhere(string file, string curve) =>
        RecordedElsewhereText(file, curve.Length > 0, curve);

    // The groups of a comparison: what their figures lack, which of them cannot be set against each other.

    public static Sentence MaterialsAlike(IEnumerable<string> names) => KeptApart(MaterialsKeptApart, names);

    public static Sentence ConditionsAlike(IEnumerable<string> names) => KeptApart(ConditionsKeptApart, names);

    public static Sentence PrintsAlike(IEnumerable<string> names) => KeptApart(PrintsKeptApart, names);

    private static Sentence KeptApart(Sentence what, IEnumerable<string> names) =>
        KeptApartText(what, QuotedAlike(names));

    // Where the uncertainty of a strength comes from, and what would shrink it.

    // What a planned number of prints and specimens can tell apart, and which question means nothing.

    /// <summary>What a plan resolves.</summary>
    /// <param name="prints">Prints a group.</param>
    /// <param name="specimens">Specimens a print.</param>
    /// <param name="percent">The true difference in per cent.</param>
    /// <param name="comparisons">Planned comparisons.</param>
    /// <param name="chance">In how many of 100 cases.</param>
    public static Sentence PlanResolves(int prints, int specimens, string percent, int comparisons, string chance)
    {
        Sentence among = comparisons == 1 ? Sentence.None : AsTheFirstOfComparisons(comparisons);
        return PlanResolvesText(prints, specimens, percent, among, chance);
    }

    /// <summary>What can be shown of one kind of question.</summary>
    /// <param name="question">Its name.</param>
    /// <param name="percent">The figure; null where nothing can be shown.</param>
    /// <param name="prints">Prints of each material and condition.</param>
    public static Sentence PlanOutlook(string question, string? percent, int prints)
        => PlanOutlookText(question, percent, prints > 1 ? "always"
        : question is "condition trend" or "drop-off" or "drop-off difference" or "keeps" or "best settings" ? "alike" : "");

    // How a print came to be: storage, drying, chamber, printer settings.

    public static Sentence ChamberNotPossible(string print, double celsius) => ChamberNotPossibleText(print, RecordFigure(celsius));

    public static Sentence StorageTemperatureNotPossible(string print, double celsius)
        => StorageTemperatureNotPossibleText(print, RecordFigure(celsius));

    public static Sentence HumidityNotPossible(string print, double percent) => HumidityNotPossibleText(print, RecordFigure(percent));

    public static Sentence StorageHoursNotPossible(string print, double hours) => StorageHoursNotPossibleText(print, RecordFigure(hours));

    public static Sentence DryingTemperatureNotPossible(string print, double celsius)
        => DryingTemperatureNotPossibleText(print, RecordFigure(celsius));

    public static Sentence DryingHoursNotPossible(string print, double hours) => DryingHoursNotPossibleText(print, RecordFigure(hours));

    public static Sentence DryerAboveSet(string print, double measuredCelsius, double setCelsius) =>
        DryerAboveSetText(print, RecordFigure(measuredCelsius), RecordFigure(setCelsius));

    public static Sentence DriedTooHot(string print, double celsius, double lowCelsius, double highCelsius, string plastic) =>
        DriedTooHotText(print, RecordFigure(celsius), RecordFigure(lowCelsius), RecordFigure(highCelsius), plastic);

    private static string RecordFigure(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    // What was before a pull.

    public static Sentence ZeroOfBefore(int pulls, double? ageSeconds) =>
        ZeroOfBeforeText(pulls, ageSeconds is { } age ? Age(age) : null);

    public static Sentence OldZero(double ageSeconds) => OldZeroText(Age(ageSeconds));

    private static Sentence Age(double seconds) => seconds < 120 ? AgeInSeconds(seconds) : AgeInMinutes(seconds / 60);

    // Why a run was read again, and which calibrations the runs of a study were read by.

    public static Sentence RecalculatedUnder(string calibration, DateTimeOffset acceptedAt, string before) =>
        RecalculatedUnderText(calibration, acceptedAt, before);

    public static Sentence RecalculatedWithCompliance(string compliance, string? before)
        => RecalculatedWithComplianceText(compliance, before ?? NoCompliance);

    // Weights and the reference forces they make: how they are described, what is refused.

    public static string ReferenceOfWeights(IEnumerable<string> weights) => string.Join(" + ", weights);

    // The runs of a study on their way to a comparison: what is left out, lost, imported.

    public static Sentence BesidesBroken(string group, IEnumerable<(string Ending, int Runs)> others) =>
        BesidesBrokenText(group, others.Select(other => $"{other.Runs} {other.Ending}"));

    // The sections of the specimens: refusals, questions, where an area came from.

    /// <summary>A reading far from the median, and what may have happened: a slipped decimal point, the wrong specimen, or
    /// nothing.</summary>
    public static Sentence ReadingFarFromMedian(Sentence name, double reading, double usual, string unit, bool ofGroup, double? meant,
        string? fittingGroup) => ReadingFarFromMedianText(name, Reading(reading, unit), Reading(usual, unit), ofGroup,
            meant is { } value ? Reading(value, unit) : null, fittingGroup);

    public static Sentence ReadingFarFromOtherGroups(Sentence name, double reading, double usual, double meant, string unit) =>
        ReadingFarFromOtherGroupsText(name, Reading(reading, unit), Reading(usual, unit), Reading(meant, unit));

    public static Sentence ReadingUnlikely(Sentence name, double reading, string unit) =>
        ReadingUnlikelyText(name, Reading(reading, unit));

    public static Sentence TwoReadingsDiffer(Sentence name, double first, double second, string unit) =>
        TwoReadingsDifferText(name, Reading(first, unit), Reading(second, unit));

    private static Sentence Reading(double value, string unit) =>
        unit switch { "mm" => ReadingOfLength(value), "mm²" => ReadingOfArea(value), _ => ReadingOf(value, unit) };

    // A study and its specimens: what its rules find, what a plan lacks, what a correction cannot do.

    public static Sentence ImportWouldPool(IReadOnlyList<string> groups)
    {
        const int shown = 5;
        return ImportWouldPoolText(groups.Take(shown), groups.Count > shown);
    }

    public static Sentence NamesAlike(IEnumerable<string> names) =>
        NamesAlikeText(QuotedAlike(names));

    public static Sentence StretchTwice(string print, string setting) => StretchTwiceText(print, AtSetting(setting));

    public static Sentence FailureIncomplete(string print, string setting, int triesMax) =>
        FailureIncompleteText(print, AtSetting(setting), triesMax);

    public static Sentence FailureWithSpecimens(string print, string setting) =>
        FailureWithSpecimensText(print, AtSetting(setting));

    public static Sentence SpecimenOfNoStretch(string specimen, string print, string setting) =>
        SpecimenOfNoStretchText(specimen, print, AtSetting(setting));

    public static Sentence StretchHasRuns(string print, string setting) =>
        StretchHasRunsText(print, AtSetting(setting));

    public static Sentence PrintHasNoStretch(string print, string setting) => PrintHasNoStretchText(print, AtSetting(setting));

    public static Sentence StretchNotFailed(string print, string setting) => StretchNotFailedText(print, AtSetting(setting));

    public static Sentence JoinSameSetting(string print, string other, string setting) =>
        JoinSameSettingText(print, other, AtSetting(setting));

    public static Sentence OnePrintAtSeveralSettings(IReadOnlyList<string> names) =>
        OnePrintAtSeveralSettingsText(Names(ThePrint, ThePrints, names));

    public static Sentence PrintNameInTwoConditions(IReadOnlyList<string> names) =>
        PrintNameInTwoConditionsText(Names(ThePrintName, ThePrintNames, names));

    private static Sentence Names(Sentence one, Sentence several, IReadOnlyList<string> names)
    {
        const int shown = 10;
        string list = string.Join(", ", names.Take(shown)) + (names.Count > shown ? ", …" : "");
        return names.Count == 1 ? OneNameStands(one, list) : SeveralNamesStand(several, list);
    }

    private static Sentence AtSetting(string setting) => AtSettingText(setting.Length > 0, setting);

    public static Sentence PlanTooLarge(Int128 specimens, int specimensMax) => PlanTooLargeText(specimens, specimensMax);

    private static string QuotedAlike(IEnumerable<string> names) => string.Join(BetweenNames, names.Select(name => $"“{name}”"));

    // What a person should look at in a trace: its samples, its peak, its fall, its crosshead, its stamps.

    public static Sentence ZeroSlopedBefore(double newtonsPerSecond, double newtons) =>
        ZeroSlopedBeforeText(newtonsPerSecond, Math.Abs(newtons));

    /// <summary>The peak can have been missed.</summary>
    /// <param name="newtons">By how much.</param>
    /// <param name="percent">The same in per cent of the peak.</param>
    /// <param name="factor">How many times slower, or more often, would do.</param>
    /// <param name="samplesPerSecond">The sample rate that would do; null where the present one is not known.</param>
    /// <param name="percentMax">What it would be below then.</param>
    public static Sentence PeakUnderRead(double newtons, double percent, double factor, double? samplesPerSecond, double percentMax)
    {
        Sentence rate = samplesPerSecond is { } known ? SampleRateOf(known) : HigherSampleRate;
        return PeakUnderReadText(newtons, percent, rate, factor, percentMax);
    }

    // Verdicts on two groups, fit to be published as they stand: which, how much, how sure, in what.

    public static Sentence VerdictNotCompared(string place, string condition, string reference) =>
        VerdictNotComparedText(VerdictPlace(place), condition, reference);

    /// <summary>The whole verdict.</summary>
    /// <param name="place">Material and setting; empty where there is neither.</param>
    /// <param name="statement">Which, how much, how sure.</param>
    /// <param name="scope">What it concerns, as a sentence.</param>
    public static string Verdict(string place, string statement, string scope) => $"{VerdictPlace(place)}{statement}. {scope}";

    public static Sentence VerdictAmount((string Value, string Low, string High) difference, string unit, string confidence) =>
        VerdictAmountText(difference.Value, unit, difference.Low, difference.High, confidence);

    public static Sentence VerdictAmount(
        (string Value, string Low, string High) percent, (string Value, string Low, string High) difference, string unit,
            string confidence) =>
        VerdictAmountWithPercent(percent.Value, percent.Low, percent.High, confidence, difference.Value, unit, difference.Low,
            difference.High);

    private static string VerdictPlace(string place) => place.Length == 0 ? "" : place + ": ";
}
