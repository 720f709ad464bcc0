using System.Globalization;
using RigDaq.Core.Quantities;

namespace RigDaq.Core.Text;

/// <summary>What a sentence asks about.</summary>
internal enum AnswerSubject
{
    /// <summary>Two strengths.</summary>
    Plain,

    /// <summary>Two strengths averaged over settings.</summary>
    Average,

    /// <summary>How a difference changes with the setting.</summary>
    Trend,

    /// <summary>One thing at two settings.</summary>
    DropOff,

    /// <summary>Two drop-offs.</summary>
    DropOffDifference,
}

/// <summary>Who is set against whom, where.</summary>
/// <param name="Kind">What is asked.</param>
/// <param name="First">The first.</param>
/// <param name="Second">The second.</param>
/// <param name="At">The setting with its unit.</param>
/// <param name="From">The other setting.</param>
/// <param name="Settings">Over so many; null where it is two ends.</param>
internal sealed record SubjectNames(AnswerSubject Kind, string First, string Second, string At, string From, int? Settings);

/// <summary>A change in per cent with its interval, as people read it.</summary>
/// <param name="Value">Without a sign where the words say the direction.</param>
/// <param name="Low">The lower end.</param>
/// <param name="High">The upper end.</param>
/// <param name="Confidence">In per cent.</param>
internal sealed record AnswerAmount(string Value, string Low, string High, string Confidence)
{
    /// <summary>"12 % (8 to 16 %, 95 % interval)".</summary>
    public string Text => $"{Value} % ({Low} to {High} %, {Confidence} % interval)";

    /// <summary>The same of a difference of shares.</summary>
    public string Points => $"{Value} points ({Low} to {High} points, {Confidence} % interval)";

    /// <summary>Words the figures.</summary>
    /// <param name="percent">The change.</param>
    /// <param name="low">Its lower end.</param>
    /// <param name="high">Its upper end.</param>
    /// <param name="confidence">In per cent.</param>
    /// <param name="signed">Whether the sign stands in the figure; else the words say "less" and the figures are turned.</param>
    public static AnswerAmount Of(double percent, double low, double high, string confidence, bool signed)
    {
        bool turn = !signed && percent < 0;
        var text = turn ? NumberText.Of(-percent, -high, -low) : NumberText.Of(percent, low, high);
        return new AnswerAmount((signed && percent > 0 && text.Value.Any(c => c is > '0' and <= '9') ? "+" : "") + text.Value, text.Low, text.High, confidence);
    }
}

/// <summary>What a setting keeps of the reference setting's strength, as people read it.</summary>
/// <param name="At">The setting with its unit.</param>
/// <param name="Value">In per cent.</param>
/// <param name="Low">The one-sided lower end.</param>
internal sealed record KeptFigures(string At, string Value, string Low);

/// <content>The questions that people ask of their pieces, answered in sentences that may be published as they stand.</content>
internal static partial class CoreText
{
    public const string AnswerAboutThesePrints = "This concerns the prints that were broken; other prints made alike may differ.";

    public const string AnswerModelNotConverged =
        "The model did not converge, so answers rest on single specimens (Welch) and concern these prints only.";

    public const string AnswerSpecimensAllEqual =
        "Within every print and setting all specimens are equal, so there is no scatter of specimens to fit a model to. "
        + "Were values copied, or rounded? Where each print was measured once, give it one row a setting.";

    public const string AnswerSatterthwaite =
        "Kenward and Roger's adjustment cannot be had for this table; standard errors are unadjusted and degrees of freedom are Satterthwaite's.";

    public static string AnswerModelTooLarge(int settingsMax) => string.Create(
        CultureInfo.InvariantCulture, $"More than {settingsMax} settings in one material and condition: no model is fitted, and answers concern these prints only.");

    public static string AnswerStrengthNotAboveZero(string group) => $"{group}: a strength is not above 0, so this group takes no part in the answers.";

    public static string AnswersTooMany(string question, int answersMax) => string.Create(
        CultureInfo.InvariantCulture, $"The question “{question}” would have more than {answersMax} answers and was left out; name a reference, or ask with fewer groups.");

    public static string AnswerReferenceMaterialAbsent(string material, string condition) =>
        $"{condition}: materials are not compared there, because the reference material {material} is absent.";

    public static string AnswerReferenceSettingAbsent(string material, string condition, string setting) =>
        $"{material}, {condition}: nothing was measured at the reference setting {setting}, so there is no drop-off.";

    public static string AnswerDropOffsNotComparable((string Place, string First, string Second) pair, string setting) =>
        $"{VerdictPlace(pair.Place)}the drop-offs of {pair.First} and {pair.Second} cannot be compared at {setting}, because not both were measured there.";

    public static string AnswerWithoutScatter(string place) =>
        $"{VerdictPlace(place)}too few specimens, or none that scatter, so an answer has no interval and no test.";

    /// <summary>The whole answer.</summary>
    public static string Answer(string place, string statement, string scope) => $"{VerdictPlace(place)}{statement}. {scope}";

    public static string AnswerNone(string place, SubjectNames subject) =>
        $"{VerdictPlace(place)}no answer about {Subject(subject)}: there is no scatter to judge it by.";

    public static string AnswerStronger(string first, string second, bool more, AnswerAmount amount) =>
        $"{first} is {(more ? "stronger" : "weaker")} than {second} by {amount.Text}";

    public static string AnswerAverage(string first, string second, int settings, bool more, AnswerAmount amount) =>
        string.Create(CultureInfo.InvariantCulture, $"on average over {settings} settings {first} is {(more ? "stronger" : "weaker")} than {second} by {amount.Text}");

    public static string AnswerTrend(string first, string second, string from, string at, int? settings, bool more, AnswerAmount amount) =>
        $"from {from} to {at} {first} {(more ? "gains on" : "falls behind")} {second} by {amount.Text}{Line(settings)}";

    public static string AnswerDropOff(string at, string from, bool more, AnswerAmount amount) =>
        $"at {at} it is {(more ? "stronger" : "weaker")} than at {from} by {amount.Text}";

    public static string AnswerDropOffDifference(string first, string second, string from, string at, bool more, AnswerAmount amount) =>
        $"from {from} to {at} {first} keeps {(more ? "more" : "less")} of its strength than {second}, by {amount.Text}";

    public static string AnswerEquivalent(SubjectNames subject, string margin, AnswerAmount amount) => subject.Kind switch
    {
        AnswerSubject.Trend => $"the difference between {subject.First} and {subject.Second} stays the same from {subject.From} to {subject.At} within ±{margin} %; "
            + $"the change came out at {amount.Text}{Line(subject.Settings)}",
        AnswerSubject.DropOff => $"at {subject.At} it is as strong as at {subject.From} within ±{margin} %; the difference came out at {amount.Text}",
        AnswerSubject.DropOffDifference => $"from {subject.From} to {subject.At} {subject.First} keeps as much of its strength as {subject.Second} within ±{margin} %; "
            + $"the difference came out at {amount.Text}",
        AnswerSubject.Average => string.Create(CultureInfo.InvariantCulture, $"on average over {subject.Settings} settings {subject.First} is as strong as {subject.Second} ")
            + $"within ±{margin} %; the difference came out at {amount.Text}",
        _ => $"{subject.First} is as strong as {subject.Second} within ±{margin} %; the difference came out at {amount.Text}",
    };

    public static string AnswerNotResolved(SubjectNames subject, AnswerAmount amount) => subject.Kind switch
    {
        AnswerSubject.Trend => $"no change of the difference between {subject.First} and {subject.Second} from {subject.From} to {subject.At} was shown: "
            + $"it came out at {amount.Text}{Line(subject.Settings)}",
        AnswerSubject.DropOff => $"no difference between {subject.At} and {subject.From} was shown: it came out at {amount.Text}",
        AnswerSubject.DropOffDifference => $"whether {subject.First} or {subject.Second} keeps more of its strength from {subject.From} to {subject.At} was not shown: "
            + $"the difference came out at {amount.Text}",
        AnswerSubject.Average => string.Create(CultureInfo.InvariantCulture, $"on average over {subject.Settings} settings no difference between {subject.First} and ")
            + $"{subject.Second} was shown: it came out at {amount.Text}",
        _ => $"no difference between {subject.First} and {subject.Second} was shown: it came out at {amount.Text}",
    };

    public static string AnswerAloneOnly(int family) =>
        $", which would stand out alone but does not among {family.ToString(CultureInfo.InvariantCulture)} such answers";

    /// <summary>Whose prints an answer speaks of.</summary>
    /// <param name="prints">Of each side.</param>
    /// <param name="stated">Whether the scatter between prints was stated, else it is that of earlier studies; null where the prints at hand show it.</param>
    public static string AnswerAboutPrintsMadeAlike(IReadOnlyList<int> prints, bool? stated)
    {
        string count = string.Join(" and ", prints.Select(n => n.ToString(CultureInfo.InvariantCulture)));
        bool one = prints.Count == 1 && prints[0] == 1;
        string from = stated is null ? "" : stated.Value ? ", with the stated scatter between prints" : ", with the scatter between prints of earlier studies";
        return $"This holds for prints made alike; measured on {count} print{(one ? "" : "s")}{from}.";
    }

    public static string AnswerDunnettTooMany(int contrastsMax) => string.Create(
        CultureInfo.InvariantCulture, $"More than {contrastsMax} comparisons with the reference material: they are adjusted by Holm instead of Dunnett.");

    public static string AnswerUnequalScatter(string widest, string narrowest, string ratio) =>
        $"Specimens scatter unequally: {widest} {ratio} times as much as {narrowest}. The model takes one scatter for all; where such groups meet, the answer about these prints "
        + "gives each group its own (Welch).";

    public static string AnswerGroupWithoutScatter(string group, string other) =>
        $"{group}: the specimens of each print are all equal, while those of {other} scatter. Were they rounded, or copied? "
        + "The model takes one scatter for all; where such groups meet, the answer about these prints gives each group its own (Welch).";

    public static string AnswerKept(string keeps, string from, KeptFigures figures, string confidence) =>
        $"at least {keeps} % of the strength at {from} is kept up to {figures.At}: there it is {figures.Value} % (at least {figures.Low} %, with {confidence} % confidence)";

    public static string AnswerKeptNoFarther(string at) => $"; for {at} that was not shown";

    public static string AnswerNotKept(string keeps, string from, KeptFigures figures, string confidence) =>
        $"that {keeps} % of the strength at {from} is kept was not shown for any setting: at {figures.At} it is {figures.Value} % (at least {figures.Low} %, with {confidence} % confidence)";

    public static string AnswerKeepsUnknown(string keeps, string from) => $"whether {keeps} % of the strength at {from} is kept is not known: there is no scatter to judge it by";

    /// <summary>Upwards and downwards from a reference in the middle.</summary>
    public static string AnswerKeptBothWays(string keeps, string from, IReadOnlyList<string> ways, string confidence) =>
        $"how far at least {keeps} % of the strength at {from} is kept ({confidence} % confidence each way): {string.Join("; ", ways)}";

    public static string AnswerKeptOneWay(bool up, KeptFigures figures, string? notFarther) =>
        $"{(up ? "up" : "down")} to {figures.At}, where it is {figures.Value} % (at least {figures.Low} %){(notFarther is null ? "" : $", and not shown for {notFarther}")}";

    public static string AnswerNotKeptOneWay(bool up, KeptFigures figures) =>
        $"{(up ? "upwards" : "downwards")} not shown for any setting, at {figures.At} it is {figures.Value} % (at least {figures.Low} %)";

    public static string AnswerKeepsUnknownOneWay(bool up) => $"{(up ? "upwards" : "downwards")} not known, because there is no scatter to judge it by";

    public static string AnswerAmongTheBest(string at, string other, AnswerAmount amount) =>
        $"{at} may be the strongest setting: none was shown to be stronger; against {other} it came out at {amount.Text}";

    public static string AnswerNotAmongTheBest(string at, string other, AnswerAmount amount) =>
        $"{at} is not the strongest setting; against {other} it came out at {amount.Text}";

    public static string AnswerBestUnknown(string at) => $"whether {at} is the strongest setting is not known: there is no scatter to judge it by";

    public static string AnswerProfileEquivalent(string first, string second, int settings, string margin, string at, AnswerAmount amount) =>
        string.Create(CultureInfo.InvariantCulture, $"{first} is as strong as {second} within ±{margin} % at every one of {settings} settings; ")
        + $"the greatest difference, at {at}, came out at {amount.Text}";

    public static string AnswerProfileNotShown(string first, string second, int settings, string margin, string at, AnswerAmount amount) =>
        string.Create(CultureInfo.InvariantCulture, $"that {first} is as strong as {second} within ±{margin} % at every one of {settings} settings was not shown; ")
        + $"the greatest difference, at {at}, came out at {amount.Text}";

    public static string AnswerProfileUnknown(string first, string second) =>
        $"whether {first} is as strong as {second} at every setting is not known: there is no scatter to judge it by";

    public static string AnswerOfEarlier(string study, string warning) => $"{study}: {warning}";

    public static string AnswerEarlierWithoutCommon(string study) => $"{study} has no group of the same material, condition and setting: nothing to set against it.";

    public static string AnswerEarlierCalibrationUnknown(string study) =>
        $"Against {study}: the uncertainty of a calibration is not known and was left out, so these intervals are too narrow.";

    public static string AnswerEarlierOtherBench(string study) =>
        $"Against {study}: it came from elsewhere. What caliper and alignment of both benches may add is not in these intervals, so they are too narrow; "
        + "a control pulled on both takes it off.";

    public static string AnswerEarlierWithoutControl(string study, bool unsaid) => unsaid
        ? $"Against {study}: nobody said whether a control piece was pulled in both; without one, a change of the rig would look like a change of the material."
        : $"Against {study}: no control piece was pulled in both, so a change of the rig would look like a change of the material.";

    public static string AnswerEarlierDifferent(string study, bool more, AnswerAmount amount) => $"{(more ? "stronger" : "weaker")} than in {study} by {amount.Text}";

    public static string AnswerEarlierEquivalent(string study, string margin, AnswerAmount amount) =>
        $"as strong as in {study} within ±{margin} %; the difference came out at {amount.Text}";

    public static string AnswerEarlierNotResolved(string study, AnswerAmount amount) => $"no difference from {study} was shown: it came out at {amount.Text}";

    public static string AnswerEarlierUnknown(string study) => $"no answer about {study}: there is no scatter to judge it by";

    public static string AnswerEarlierOver(int settings) => settings == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $"on average over {settings} settings ");

    public static string AnswerEarlierCorrected(string control) => $"; the change of the control ({control}), pulled in both, is taken off";

    public const string AnswerEarlierIsControl = "; this is the control, whose change is taken off the others";

    /// <summary>After a sentence.</summary>
    public static string AnswerImported(int imported, int total) => string.Create(
        CultureInfo.InvariantCulture, $" {imported} of the {total} strengths behind it {(imported == 1 ? "was" : "were")} imported, without a trace.");

    public static string AnswerEarlierControl(bool? inBoth) => inBoth switch
    {
        true => "; a control piece was pulled in both",
        false => "; no control piece was pulled in both",
        null => "",
    };

    public static string AnswerShare(string kind, int count, int total, AnswerAmount amount) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} of {total} specimens broke so: {kind}, that is {amount.Text}");

    public static string AnswerShareDifference(string kind, string first, string second, bool different, AnswerAmount amount) => different
        ? $"the share that broke so: {kind}, differs between {first} and {second} by {amount.Points}"
        : $"no difference between {first} and {second} in the share that broke so: {kind}, was shown; it came out at {amount.Points}";

    public static string AnswerShareTrend(string kind, string from, string to, bool different) => different
        ? $"the share that broke so: {kind}, changes with the setting from {from} to {to}"
        : $"that the share that broke so: {kind}, changes with the setting from {from} to {to} was not shown";

    public static string AnswerNotPrintable(string place, int failed, int tried, IReadOnlyList<string> reasons)
    {
        string why = reasons.Count == 0 ? "" : $" ({string.Join("; ", reasons)})";
        return failed == tried
            ? string.Create(CultureInfo.InvariantCulture, $"{VerdictPlace(place)}could not be printed: {failed} of {tried} print{(tried == 1 ? "" : "s")} failed{why}.")
            : string.Create(CultureInfo.InvariantCulture, $"{VerdictPlace(place)}{failed} of {tried} prints failed{why}.");
    }

    private static string Line(int? settings) => settings is { } n
        ? string.Create(CultureInfo.InvariantCulture, $", by a straight line through {n} settings")
        : "";

    private static string Subject(SubjectNames subject) => subject.Kind == AnswerSubject.DropOff ? $"{subject.At} and {subject.From}" : $"{subject.First} and {subject.Second}";
}
