using RigDaq.Text;

namespace RigDaq.Tables.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class TablesText
{
    // What keeps a file from being read.

    public static Sentence Fault(int? line, string? column, Sentence problem) => (line, column) switch
    {
        ({ } at, { } name) => FaultNameText(at, name, problem),
        ({ } at, null) => FaultNullText(at, problem),
        _ => problem,
    };

    public static Sentence CellsTooMany(int most) => CellsTooManyText(most);

    public static Sentence CellsTooMany(int cells, int columns) => CellsTooManyText2(cells, columns);

    public static Sentence CellOtherMark(string cell, char mark) => CellOtherMarkText(cell, mark == ',');

    // How a file was read, why, and what was assumed.

    public const string OptionForceColumn = "--force-column";
    public const string OptionTimeColumn = "--time-column";
    public const string OptionPositionColumn = "--position-column";
    public const string OptionCurveColumn = "--curve-column";
    public const string OptionForceUnit = "--force-unit";
    public const string OptionTimeUnit = "--time-unit";
    public const string OptionPositionUnit = "--position-unit";
}
