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
    public const string PlanWithoutSpecimens = "A group has at least one print, a print at least one specimen.";

    public const string ConditionNeedsName = "A condition needs a name.";
    public const string MaterialNeedsName = "A material needs a name.";

    public const string MarginChangedAfterFreeze = "the margin of equivalence was changed after the plan was frozen";
    public const string ComparisonsChangedAfterFreeze = "the planned comparisons were changed after the plan was frozen";
    public const string SectionBasisChangedAfterFreeze = "the basis of the sections was changed after the plan was frozen";
    public const string PlanOpenedAgain = "the plan was opened again";

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

    public static string ImportedTwice(string specimen) => $"The specimen {specimen} has two imported strengths.";

    public static string PlannedGroupUnknown(string group) => $"A planned comparison names {group}, which no print is.";

    public static string PlannedAgainstItself(string condition) => $"A planned comparison sets {condition} against itself.";

    public static string NamesAlike(IEnumerable<string> names) =>
        $"{QuotedAlike(names)} differ only by spaces or capitals; spell them alike if they are the same.";

    public static string SettingsUnequal(string material, string condition, IReadOnlyList<string> missing) =>
        $"{material}: {condition} has no print at {string.Join(", ", missing)}, where another condition has; settings are unequal.";

    public static string PrintWithoutSpecimens(string print) => $"No specimen is cut from the print {print}.";

    public static string PlanTooLarge(Int128 specimens, int specimensMax) => $"The plan makes {specimens} specimens; at most {specimensMax} are possible.";

    public static string StudyHasNoSpecimen(string study, string specimen) => $"The study {study} has no specimen {specimen}.";

    public static string StudyHasNoPrint(string study, string print) => $"The study {study} has no print {print}.";

    public static string StudyHasNoCondition(string study, string condition) => $"The study {study} has no condition “{condition}”.";

    public static string StudyHasNoMaterial(string study, string material) => $"The study {study} has no material “{material}”.";

    public static string ImportLineNamesNothing(int line) => $"Line {line} names neither a specimen nor a group.";

    public static string ImportSource(string source, int line) => string.Create(CultureInfo.InvariantCulture, $"{source}, line {line}");

    public static string LabelPrintAndPlace(string print, int order) => string.Create(CultureInfo.InvariantCulture, $"print {print}, break as number {order}");

    private static string QuotedAlike(IEnumerable<string> names) => string.Join(" and ", names.Select(name => $"“{name}”"));
}
