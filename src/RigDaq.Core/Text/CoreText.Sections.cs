using System.Globalization;

namespace RigDaq.Core.Text;

/// <content>The sections of the specimens: refusals, questions, where an area came from.</content>
internal static partial class CoreText
{
    public const string SectionWidth = "width";
    public const string SectionThickness = "thickness";
    public const string SectionArea = "area";
    public const string SectionMass = "mass";
    public const string SectionLength = "length";
    public const string SectionDensity = "density";
    public const string SectionMassPerLength = "mass per length";

    public const string SectionWithoutReadings = "there are no readings; enter width and thickness, an area, or mass, length and density.";
    public const string SectionInSeveralWays = "more than one way was used; keep width and thickness, or the area, or mass, length and density.";
    public const string WidthMissing = "the width is missing.";
    public const string ThicknessMissing = "the thickness is missing.";
    public static string CaliperErrorOutOfRange(double most) => FormattableString.Invariant($"the caliper's error limit must be from 0 to {most} mm.");

    public const string CaliperResolutionNegative = "the caliper's resolution must be 0 or more.";

    public const string SectionLooksSwapped = "Width and thickness look exchanged, seen against the rest of the group; are they?";

    public const string AreaWithoutUncertainty = "The area was entered without an uncertainty: the strength's uncertainty leaves the section out.";
    public const string MassWithoutUncertainty = "Mass, length and density came without uncertainties: the strength's uncertainty leaves the section out.";
    public const string DimensionReadOnce = "A dimension was read once: its uncertainty holds the caliper's resolution only, not its spread along the piece.";
    public const string SectionOfOneSpecimen = "The group's section rests on one specimen.";

    public const string AreaAsEntered = "area as entered";
    public const string WidthTimesThickness = "width × thickness";
    public const string MeanOfGroup = "mean of the group";

    public static string TooManyReadings(int readingsMax) => $"more than {readingsMax} readings of one dimension.";

    public static string ReadingNotPositive(string name, double value, string unit) =>
        string.Create(CultureInfo.InvariantCulture, $"the {name} {value} {unit} is not above zero.");

    public static string ReadingUncertaintyNegative(string name) => $"the standard uncertainty of the {name} must be 0 or more.";

    /// <summary>A reading far from the median, and what may have happened: a slipped decimal point, the wrong specimen, or nothing.</summary>
    public static string ReadingFarFromMedian(string name, double reading, double usual, string unit, bool ofGroup, double? meant, string? fittingGroup) =>
        $"The {name} {SectionReading(reading, unit)} is far from {SectionReading(usual, unit)}, {(ofGroup ? "the group's" : "the other readings'")} median"
            + (meant is { } value ? $"; was {SectionReading(value, unit)} meant?"
                : fittingGroup is { } other ? $"; it fits {other}: is this the right specimen?" : "; is it right?");

    public static string ReadingFarFromOtherGroups(string name, double reading, double usual, double meant, string unit) =>
        $"The {name} {SectionReading(reading, unit)} is far from {SectionReading(usual, unit)}, the other groups' median; was {SectionReading(meant, unit)} meant?";

    public static string ReadingUnlikely(string name, double reading, string unit) =>
        $"The {name} {SectionReading(reading, unit)} is unlikely for a specimen; is the decimal point in its place?";

    public static string TwoReadingsDiffer(string name, double first, double second, string unit) =>
        $"The two readings of the {name}, {SectionReading(first, unit)} and {SectionReading(second, unit)}, differ widely; which is right?";

    public static string SectionMeanAtSetting(string settingName, decimal setting, string unit) =>
        string.Create(CultureInfo.InvariantCulture, $"mean of the group at {settingName} {setting} {unit}").TrimEnd();

    public static string SectionBasisNamesNoSetting(string study) =>
        $"The study {study} takes sections at a reference setting but names none; set its reference setting.";

    public static string SectionNotMeasured(string specimen) => $"The section of {specimen} was not measured; enter it, and its strength is computed.";

    public static string SectionPerSpecimen(string source) => $"per specimen, {source}";

    public static string SectionProblem(string specimen, string problem) => $"{specimen}: {problem}";

    public static string GroupNotMeasured(string group) =>
        $"No specimen of {group} was measured, and the section is taken from that group; measure at least one.";

    public static string SectionMeanSource(string source, int measured, IEnumerable<string> ways) =>
        string.Create(CultureInfo.InvariantCulture, $"{source} ({measured} measured), {string.Join(" or ", ways)}");

    private static string SectionReading(double value, string unit) => string.Create(CultureInfo.InvariantCulture, $"{value:0.####} {unit}");
}
