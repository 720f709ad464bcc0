using RigDaq.Tables.Readings;
using RigDaq.Text;

namespace RigDaq.App.Curves;

/// <summary>How a table was read, for machines: what each column was taken for, and why.</summary>
internal sealed record TraceReadAs
{
    public required string Encoding { get; init; }
    public string? Sheet { get; init; }
    public string? Separator { get; init; }
    public required string Decimal { get; init; }
    public int? HeaderLine { get; init; }
    public int? FirstLine { get; init; }
    public int? LastLine { get; init; }

    /// <summary>column, rate or speed.</summary>
    public required string TimesFrom { get; init; }

    /// <summary>Whether the force's sign was turned, in any of the file's curves.</summary>
    public bool SignTurned { get; init; }

    public required IReadOnlyList<TraceReadColumn> Columns { get; init; }

    /// <summary>How one curve of a file was read: its own columns, and where it is the only one the others too.</summary>
    public static TraceReadAs Of(TableReading reading, RecordedCurve curve) => new()
    {
        Encoding = reading.Encoding,
        Sheet = reading.Sheet,
        Separator = reading.Separator,
        Decimal = reading.DecimalMark,
        HeaderLine = reading.HeaderLine,
        FirstLine = curve.FirstLine,
        LastLine = curve.LastLine,
        TimesFrom = reading.TimesFrom,
        SignTurned = reading.Turned,
        Columns = [.. reading.Columns.Where(column => reading.Curves.Count == 1 || column.Role == ColumnRole.Curve
            || curve.Columns.Contains(column.Number)).Select(TraceReadColumn.Of)],
    };
}

/// <summary>One of its columns.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Name">In the header.</param>
/// <param name="Role">force, counts, time, position, curve; null where it was not used.</param>
/// <param name="Unit">The unit's symbol; empty where it has none.</param>
/// <param name="Why">In words.</param>
internal sealed record TraceReadColumn(int Number, string Name, string? Role, string Unit, Sentence Why)
{
    public static TraceReadColumn Of(ColumnReading column) =>
        new(column.Number, column.Name, RoleWord(column.Role), column.Unit, column.Why);

    public static string? RoleWord(ColumnRole role) => role switch
    {
        ColumnRole.Force => "force",
        ColumnRole.Counts => "counts",
        ColumnRole.Time => "time",
        ColumnRole.Position => "position",
        ColumnRole.Curve => "curve",
        _ => null,
    };
}
