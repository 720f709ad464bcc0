namespace RigDaq.Tables.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class TablesText
{
    // What keeps a file from being read.

    public static string Fault(int? line, string? column, string problem) => (line, column) switch
    {
        ({ } at, { } name) => FaultNameText(at, name, problem),
        ({ } at, null) => FaultNullText(at, problem),
        _ => problem,
    };

    public static string CellsTooMany(int most) => CellsTooManyText(most);

    public static string CellsTooMany(int cells, int columns) =>
        CellsTooManyText2(cells, columns);

    public static string CellOtherMark(string cell, char mark) =>
        CellOtherMarkText(cell, mark == ',');

    // How a file was read, why, and what was assumed.

    public const string OptionForceColumn = "--force-column";
    public const string OptionTimeColumn = "--time-column";
    public const string OptionPositionColumn = "--position-column";
    public const string OptionCurveColumn = "--curve-column";
    public const string OptionForceUnit = "--force-unit";
    public const string OptionTimeUnit = "--time-unit";
    public const string OptionPositionUnit = "--position-unit";

    public static string AssumedTimeUnit(string column, bool countsUp, bool likeMilliseconds)
    {
        string said = AssumedTimeUnitText(column);
        if (countsUp) return AssumedTimeUnitText2(said);
        return likeMilliseconds ? AssumedTimeUnitText3(said) : said + ".";
    }
}
