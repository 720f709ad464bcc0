namespace RigDaq.Rig.Text;

/// <content>Why a line format is proposed, and what to look at before it is used.</content>
internal static partial class RigText
{
    public const string NoLineArrived = "No line has arrived.";

    public static string LinesAreHeadings(int lines, string first) => $"{lines} lines have no digit: a heading, for example “{first}”";

    public static string NothingInCommon(string last) => $"the lines have no column of numbers in common; the last one is “{last}”";

    public const string NoForceColumn = "there is no column left that could be a force";

    public static string FewLinesFit(double share) => FormattableString.Invariant($"only {share:P0} of the lines fit: the others would be dropped and counted");

    public static string RestsOnFew(int lines) => $"it rests on {lines} lines only";

    public const string NumberNeverChanged = "the number never changed: press on the cell and look again";

    public static string LinesAreComments(int lines, string prefix) => $"{lines} lines begin with “{prefix}”: comments";

    public const string CommaIsDecimal = "one comma a line, always as many digits behind it, and neither side rises like a time: it stands before decimals";
    public const string CommaMaySeparate = "if the comma separates two columns, set the separator yourself";

    public static string ColumnsBetween(int columns, char? separator) => $"{columns} columns between {Separator(separator)}";

    public const string OneColumn = "one column";
    public const string CommaBeforeDecimals = "a comma stands before the decimals";
    public const string NoTimeColumn = "no column only rises: the device prints no time, stamps are made on arrival";

    public static string TimeColumnFound(int column) => $"column {column} only rises: the device's time";

    public static string TimeRisesPerSecond(double rise, string unit) =>
        FormattableString.Invariant($"its time rises by {rise:0.##} in a second here: {unit}");

    public static string TimeRisesPerLine(double rise, string unit) => FormattableString.Invariant($"its time rises by {rise:G3} a line: {unit}");

    public const string TimeUnitFromStep = "the unit of the time was told from its step alone";

    public static string StandsBehind(string unit) => $"“{unit}” stands behind it";

    public static string HeadingIs(string heading) => $"its heading is “{heading}”";

    public const string OnlyColumnLeft = "it is the only column of numbers left";
    public const string FirstThatChanges = "it is the first that changes";

    public static string ForceColumnFound(int column, string why) => $"column {column} is the force: {why}";

    public static string CouldAllBeForce(IEnumerable<int> columns) => $"columns {string.Join(", ", columns)} could all be the force";

    public static string UnitIs(string unit) => $"its unit is “{unit}”";

    public static string UnitNotKnown(string unit) => $"the unit “{unit}” is not known here: lines with it are refused unless the device leaves it out";

    public const string NoUnitNamed = "no unit is named: its numbers are taken as counts, and a calibration makes newtons of them";

    public static string DigitsRoundedOff(double greatest, double countsPerUnit) =>
        FormattableString.Invariant($"numbers up to {greatest:G6} leave room for {countsPerUnit:G3} counts a unit only: the last digits are rounded off");

    public static string DecimalsKept(int decimals, double countsPerUnit) => FormattableString.Invariant($"{decimals} decimals: {countsPerUnit:G6} counts a unit");
}
