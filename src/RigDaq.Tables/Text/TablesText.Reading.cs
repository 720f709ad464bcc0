using System.Globalization;

namespace RigDaq.Tables.Text;

/// <content>How a file was read, why, and what was assumed.</content>
internal static partial class TablesText
{
    public const string OptionForceColumn = "--force-column";
    public const string OptionTimeColumn = "--time-column";
    public const string OptionPositionColumn = "--position-column";
    public const string OptionCurveColumn = "--curve-column";
    public const string OptionForceUnit = "--force-unit";
    public const string OptionTimeUnit = "--time-unit";
    public const string OptionPositionUnit = "--position-unit";

    public const string WhyClock = "its cells are times of day";
    public const string WhyNoNumbers = "it holds no numbers";
    public const string WhyUnknown = "neither its name nor a unit says what it is";
    public const string WhyIndex = "it counts rows";
    public const string WhySteady = "it is the only column that rises by the same step";
    public const string WhyRises = "it rises all the time";
    public const string WhyRest = "it is the column left over";
    public const string WhySaid = "as you said";
    public const string WhyOtherSaid = "you named another column";
    public const string WhyRateSaid = "you gave a rate or a speed";

    public const string TimesWhole = "The times are whole seconds, and several samples share one: rates are rough. If samples "
            + "were taken evenly, say --rate.";
    public const string PositionTurned = "The position falls while the force grows: read with the other sign.";

    public static string ColumnNumber(int number) => $"column {number}";

    public static string WhyWord(string word) => $"“{word}” is in its name";

    public static string WhyUnit(string unit) => $"its unit is {unit}";

    public static string WhyWordAndUnit(string word, string unit) => $"“{word}” is in its name, its unit is {unit}";

    public static string WhyOther(string what) => $"it holds something else ({what})";

    public static string WhyNotUsed(string why) => $"{why}, but another column was taken";

    public static string AssumedForceUnit(string column) =>
        $"The file gives no unit for the force (column {column}): read as N. If it is another, say --force-unit.";

    public static string AssumedMass(string column, string unit) =>
        $"The force (column {column}) is in {unit}, a unit of mass: read as the weight of that mass at 9.80665 m/s².";

    public static string AssumedTimeUnit(string column, bool countsUp, bool likeMilliseconds)
    {
        string said = $"The file gives no unit for the time (column {column}): read as s. If it is another, say --time-unit";
        if (countsUp) return said + "; if it counts samples, say --time-column none and --rate.";
        return likeMilliseconds ? said + "; whole numbers so far apart are often milliseconds: --time-unit ms." : said + ".";
    }

    public static string AssumedPositionUnit(string column) =>
        $"The file gives no unit for the position (column {column}): read as mm. If it is another, say --position-unit.";

    public static string OtherForces(string taken, IEnumerable<string> others) =>
        $"Of several columns with a force, {taken} was taken; not read: {List(others)}. Name others with --force-column.";

    public static string GuessedWithoutNames(int force) =>
        $"The columns have no names: column {force} was taken for the force, by how the values run. Look at it, and name "
                + $"columns with --force-column and --time-column where it is wrong.";

    public static string SignTurned(double lowest) => string.Create(CultureInfo.InvariantCulture,
        $"The force grows below zero (down to {lowest:G4} N): read with the other sign, as a compression or a cell wired the "
                + $"other way. --sign keep leaves it.");

    public static string SignKept(double lowest) => string.Create(CultureInfo.InvariantCulture,
        $"The force is mostly negative (down to {lowest:G4} N) but rises from there: the sign was kept. --sign turn reads it "
                + $"the other way.");

    public static string SpeedEvenSteps(double hertz) => string.Create(CultureInfo.InvariantCulture,
        $"The position is too coarse to tell each sample's time: samples were taken as even, {hertz:G4} a second by travel and "
                + $"speed.");

    public static string LinesLeftOut(int lines, int first) => lines == 1
        ? $"Line {first} holds no numbers and was left out."
        : $"{lines} lines between the rows hold no numbers and were left out, the first is line {first}.";

    public static string AnotherTable(int line) => $"From line {line} on there is another table: not read.";

    public static string TimeBeginsAnew(int line) => $"The time begins anew in line {line}: read as another curve.";

    public static string LastLineCutOff(int line) => $"Line {line}, the last one, is cut off and was left out.";
}
