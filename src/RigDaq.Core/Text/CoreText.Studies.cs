using System.Globalization;

namespace RigDaq.Core.Text;

/// <content>A study and its specimens: what its rules find, what a plan lacks, what a correction cannot do.</content>
internal static partial class CoreText
{
    public const string MarginNotPossible = "The margin of equivalence must lie between 0 and 100 per cent.";
    public const string PlacesCountFromOne = "Places in the order of breaking count from 1.";
    public const string SpecimenWithoutLabel = "A specimen has no label, or one that is too long.";
    public const string PrintIncomplete = "A print needs an id, a material and a condition.";
    public const string ReferenceSettingMissing = "Sections are to be taken at a reference setting, but none is named.";
    public const string SettingNameUnsaid = "setting";
    public const string WithoutSetting = "no setting";

    public const string PlanWithoutGroups = "A study needs at least one material and one condition.";
    public const string PlanWithoutSpecimens = "A group has at least one print, a stretch at least one specimen.";

    public const string ConditionNeedsName = "A condition needs a name.";
    public const string MaterialNeedsName = "A material needs a name.";

    public const string MarginChangedAfterFreeze = "the margin of equivalence was changed after the plan was frozen";
    public const string ComparisonsChangedAfterFreeze = "the planned comparisons were changed after the plan was frozen";
    public const string SectionBasisChangedAfterFreeze = "the basis of the sections was changed after the plan was frozen";
    public const string QuestionsChangedAfterFreeze = "the questions were changed after the plan was frozen";
    public const string ReferenceMaterialChangedAfterFreeze = "the reference material was changed after the plan was frozen";
    public const string KeepsChangedAfterFreeze = "what is to be kept was changed after the plan was frozen";
    public const string PlanOpenedAgain = "the plan was opened again";

    public static string TextNotPlain(string shown) => $"“{shown}” holds control characters (written out here).";

    public static string StudyIdNotPossible(string id) =>
        $"The study's id “{id}” must be 1 to 64 small letters, digits, hyphens or underscores, beginning with a letter or digit.";

    public static string StudyNeedsName(int lengthMax) => $"The study needs a name of at most {lengthMax} characters.";

    public static string TooManySpecimens(int specimens, int specimensMax) => $"{specimens} specimens are more than the {specimensMax} that a study may have.";

    public static string PrintNamedTwice(string print) => $"The print {print} is named twice.";

    public static string SpecimenNamedTwice(string specimen) => $"The specimen {specimen} is named twice; each needs a label of its own.";

    public static string PlaceTakenTwice(string order) => $"Two specimens have the place {order} in the order of breaking.";

    public static string SpecimenNamesUnknownPrint(string specimen, string print) =>
        $"The specimen {specimen} names the print {print}, which the study does not have.";

    public static string SectionRefused(string specimen, string refusal) => $"The section of {specimen}: {refusal}";

    public static string NoPrintAtReferenceSetting(decimal setting) => $"No print has the reference setting {setting}.";

    public static string NoPrintOfReferenceCondition(string condition) => $"No print has the reference condition “{condition}”.";

    public static string ImportNamesUnknownSpecimen(string source, string specimen) =>
        $"An imported strength ({source}) names the specimen {specimen}, which the study does not have.";

    public static string ImportNotAboveZero(string specimen, string source) => $"The imported strength of {specimen} ({source}) is not above 0 MPa.";

    public const string ImportedFailure = "could not be printed, as the table says";

    public static string ImportWouldPool(IReadOnlyList<string> groups)
    {
        const int shown = 5;
        return $"These strengths would be pooled with specimens that this study has already: {string.Join("; ", groups.Take(shown))}{(groups.Count > shown ? "; …" : "")}. "
            + "Give them a name of their own in the table (a material “Alder 2025”, say), import them into a study of their own and set this one against it, or say why they may be pooled: --pool REASON.";
    }

    public static string ImportedTwice(string specimen) => $"The specimen {specimen} has two imported strengths.";

    public static string PlannedGroupUnknown(string group) => $"A planned comparison names {group}, which no print is.";

    public static string NoPrintOfReferenceMaterial(string material) => $"No print is of the reference material “{material}”.";

    public const string KeepsNotPossible = "What is to be kept must lie between 0 and 100 per cent.";

    public static string QuestionUnknown(string question, IEnumerable<string> known) => $"There is no question “{question}”; there are: {string.Join(", ", known)}.";

    public static string PlannedAgainstItself(string condition) => $"A planned comparison sets {condition} against itself.";

    public static string NamesAlike(IEnumerable<string> names) =>
        $"{QuotedAlike(names)} differ only by spaces or capitals; spell them alike if they are the same.";

    public static string SettingsUnequal(string material, string condition, IReadOnlyList<string> missing) =>
        $"{material}: {condition} has no print at {string.Join(", ", missing)}, where another condition has; settings are unequal.";

    public static string StretchWithoutSpecimens(string print, string setting) => $"No specimen is cut from the print {print} at {setting}.";

    public static string PrintWithoutStretch(string print) => $"The print {print} has no stretch; it needs at least one.";

    public static string StretchTwice(string print, string setting) => $"The print {print} has two stretches{AtSetting(setting)}; each needs a setting of its own.";

    public static string FailureIncomplete(string print, string setting, int triesMax) =>
        $"The print {print}{AtSetting(setting)} could not be printed: say why, and how many times it was tried (1 to {triesMax}).";

    public static string FailureWithSpecimens(string print, string setting) =>
        $"The print {print}{AtSetting(setting)} could not be printed, yet specimens are cut from it.";

    public static string SpecimenOfNoStretch(string specimen, string print, string setting) =>
        $"The specimen {specimen} is said to be cut from the print {print}{AtSetting(setting)}, where that print has no stretch.";

    public static string PlaceNotPossible(string specimen) => $"The place of {specimen} along its print counts from 1.";

    public static string StretchHasRuns(string print, string setting) =>
        $"Specimens of the print {print}{AtSetting(setting)} have been pulled or have imported strengths, so it was printed.";

    public static string PrintHasNoStretch(string print, string setting) => $"The print {print} has no stretch{AtSetting(setting)}.";

    public static string StretchNotFailed(string print, string setting) => $"The print {print}{AtSetting(setting)} is not marked as one that could not be printed.";

    public const string JoinNeedsTwo = "Name at least two prints to join, the one that stays first.";

    public static string JoinOfOthers(string print, string other) => $"The prints {print} and {other} are not of one material and condition: they cannot be one print.";

    public static string JoinSameSetting(string print, string other, string setting) =>
        $"The prints {print} and {other} both have a stretch{AtSetting(setting)}: they were two prints.";

    public static string JoinOtherRecord(string print, string other) =>
        $"The prints {print} and {other} have different records of how they came to be. Correct one of them first, so that they are the same.";

    public static string MoveNamesNoStretch(string specimen, string print) =>
        $"The print {print} has several stretches; say which one {specimen} was cut from: {specimen}={print}@SETTING.";

    public static string OnePrintAtSeveralSettings(IReadOnlyList<string> names) =>
        $"{Names("The print", "The prints", names)} each at several settings: taken as one print with a stretch at each. Where they were prints of their own, say so with --separate-prints.";

    public static string PrintNameInTwoConditions(IReadOnlyList<string> names) =>
        $"{Names("The print name", "The print names", names)} in more than one condition: taken as a print of its own in each.";

    private static string Names(string one, string several, IReadOnlyList<string> names)
    {
        const int shown = 10;
        string list = string.Join(", ", names.Take(shown)) + (names.Count > shown ? ", …" : "");
        return names.Count == 1 ? $"{one} {list} stands" : $"{several} {list} stand";
    }

    private static string AtSetting(string setting) => setting.Length == 0 ? "" : " at " + setting;

    public static string PrintWithoutSpecimens(string print) => $"No specimen is cut from the print {print}.";

    public static string PlanLeavesOutUnknown(string group, string example) => $"The plan leaves out “{group}”, which it does not have. Its groups are named like this: {example}.";

    public static string PlanPrintsOfUnknown(string name, IEnumerable<string> materials) => $"There is no material {name} to make prints of; the plan has {string.Join(", ", materials)}.";

    public static string PlanTooLarge(Int128 specimens, int specimensMax) => $"The plan makes {specimens} specimens; at most {specimensMax} are possible.";

    public static string StudyHasNoSpecimen(string study, string specimen) => $"The study {study} has no specimen {specimen}.";

    public static string StudyHasNoPrint(string study, string print) => $"The study {study} has no print {print}.";

    public static string StudyHasNoCondition(string study, string condition) => $"The study {study} has no condition “{condition}”.";

    public static string StudyHasNoMaterial(string study, string material) => $"The study {study} has no material “{material}”.";

    public const string ControlChangedAfterFreeze = "the control was changed after the plan was frozen";

    public const string EarlierChangedAfterFreeze = "the earlier studies that it is set against were changed after the plan was frozen";

    public const string EarlierIsItself = "A study cannot be set against itself.";

    public const string EarlierPoolReason = "Say why the strengths of two studies may be pooled, in a few words.";

    public static string ControlNoGroup(string study, string group, IReadOnlyList<string> groups) =>
        $"{study} has no group “{group}” that could be its control. It has: {string.Join("; ", groups)}.";

    public const string ControlWithin = "The control's last session lies within its limits.";

    public static string ControlOutside(string study) => $"The control's last session ({study}) lies outside its limits: the rig, the calibration or the filament has changed. Look before you compare.";

    public static string ControlWithoutLimits(int sessions, int baseline) => string.Create(
        CultureInfo.InvariantCulture, $"{sessions} session{(sessions == 1 ? "" : "s")} with this control; limits come after {baseline}.");

    public static string ControlGone(string group) => $"The control “{group}” is no group of this study any more.";

    public static string EarlierWithoutStrengths(string study) => $"{study} has no strength yet, so nothing can be set against it.";

    public static string EarlierNothingToPool(string study) => $"{study} has no group of the same material, condition and setting: nothing to pool.";

    public static string NotSetAgainst(string study, string earlier) => $"{study} is not set against {earlier}.";

    public static string EarlierTwice(string study) => $"The earlier study {study} is named twice.";

    public static string EarlierNotPossible(string study) => $"The earlier study {study} is this study itself, or has a strength that is not above 0.";

    public static string EarlierPooled(int strengths, string study, string reason) => string.Create(
        CultureInfo.InvariantCulture, $"{strengths} strengths of {study} are pooled with this study's, because: {reason}. A difference between the calibrations of the two is in no interval.");

    public static string ImportLineNamesNothing(int line) => $"Line {line} names neither a specimen nor a group.";

    public static string ImportSource(string source, int line) => string.Create(CultureInfo.InvariantCulture, $"{source}, line {line}");

    public static string LabelPrintAndPlace(string print, int order) => string.Create(CultureInfo.InvariantCulture, $"print {print}, break as number {order}");

    private static string QuotedAlike(IEnumerable<string> names) => string.Join(" and ", names.Select(name => $"“{name}”"));
}
