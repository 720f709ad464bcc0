using System.Globalization;
using RigDaq.Tables.Readings;

namespace RigDaq.Tables.Layout;

/// <summary>What a proposal used, said as options: kept as a layout, it reads the next file of this kind in the same way.</summary>
internal static class UsedOptions
{
    /// <param name="proposal">How the file was read.</param>
    /// <param name="said">What a person said.</param>
    /// <param name="reading">What is known of the file's text.</param>
    public static ReadingOptions Of(Proposal proposal, ReadingOptions said, TableReading reading)
    {
        CurveColumns? first = proposal.Curves.Count > 0 ? proposal.Curves[0] : null;
        bool one = proposal.Curves.Count == 1;
        bool inUnits = first?.Force.Role == ColumnRole.Force;
        return said with
        {
            // Curves side by side differ in number from file to file: their columns are found again.
            ForceColumns = one ? [Name(proposal, first!.Force)] : said.ForceColumns,
            TimeColumn = one && first!.Time is { } time ? Name(proposal, time) : said.TimeColumn,
            PositionColumn = one && first!.Position is { } position ? Name(proposal, position) : said.PositionColumn,
            CurveColumn = proposal.CurveColumn is { } curve ? Name(proposal, curve) : said.CurveColumn,
            ForceUnit = inUnits ? Same(proposal.Curves.Select(curve => (ColumnGuess?)curve.Force)) ?? said.ForceUnit : said.ForceUnit,
            TimeUnit = first?.Time is { Look.IsClock: false } ? Same(proposal.Curves.Select(curve => curve.Time)) ?? said.TimeUnit
                : said.TimeUnit,
            PositionUnit = Same(proposal.Curves.Select(curve => curve.Position)) ?? said.PositionUnit,
            DecimalMark = proposal.Mark.ToString(),
            Separator = reading.Separator,
        };
    }

    private static string? Same(IEnumerable<ColumnGuess?> columns)
    {
        string[] units = [.. columns.OfType<ColumnGuess>().Select(column => column.UnitShown).Distinct()];
        return units.Length == 1 ? units[0] : null;
    }

    private static string Name(Proposal proposal, ColumnGuess column) =>
        column.Name.Length > 0 && proposal.Columns.Count(other => other.Name.Equals(column.Name, StringComparison.OrdinalIgnoreCase)) == 1
        ? column.Name : (column.Index + 1).ToString(CultureInfo.InvariantCulture);
}
