using System.Globalization;
using RigDaq.Tables.Cells;
using RigDaq.Tables.Numbers;
using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;
using RigDaq.Tables.Words;
using RigDaq.Text;

namespace RigDaq.Tables.Layout;

/// <summary>How a table is to be read: what the file shows, with what a person said over it.</summary>
/// <param name="Block">Its numbers.</param>
/// <param name="Header">The names.</param>
/// <param name="Mark">Before decimals.</param>
/// <param name="Columns">What each column is taken for.</param>
/// <param name="Curves">Which columns make a curve.</param>
/// <param name="CurveColumn">The column that names the curve of a row; null where there is none.</param>
/// <param name="Warnings">What was assumed.</param>
internal sealed record Proposal(Block Block, Header Header, char Mark, IReadOnlyList<ColumnGuess> Columns,
    IReadOnlyList<CurveColumns> Curves, ColumnGuess? CurveColumn, IReadOnlyList<Sentence> Warnings);

/// <summary>Makes the proposal, and the faults that keep one from being made.</summary>
internal sealed class LayoutProposer(Grid grid, ReadingOptions options, FaultList faults)
{
    // A time is evener than anything else by so much.
    private const double EvenerBy = 10;

    private readonly List<Sentence> _warnings = [];

    /// <summary>The proposal; null where the table holds no numbers at all.</summary>
    public Proposal? Propose()
    {
        int from = SeparatorFinder.FirstRow(grid, options.SkipLines ?? 0);
        if (BlockFinder.Main(grid, from) is not { } block)
        {
            faults.Add(null, null, grid.Rows == 0 ? TablesText.TableEmpty : TablesText.TableWithoutNumbers);
            return null;
        }

        Header header = HeaderFinder.Find(grid, block, from);
        char mark = Mark(block);
        List<ColumnGuess> columns = [.. Enumerable.Range(0, block.Columns)
            .Select(i => ColumnGuess.Of(i, header.Names[i], header.Units[i], ColumnLook.Of(grid, block, i, mark)))];
        if (header.Row < 0) GuessWithoutNames(columns);
        List<ColumnGuess> chosen = Chosen(columns);
        var others = new List<ColumnGuess>();
        List<CurveColumns> curves = CurveGroups.Of(columns, header.Titles, chosen, others);
        Check(columns, curves, header);
        SayWhatWasAssumed(curves, others);
        HashSet<ColumnGuess?> used = [.. curves.SelectMany(curve => new[] { curve.Force, curve.Time, curve.Position })];
        ColumnGuess? curveColumn = CurveColumn(columns);
        foreach (ColumnGuess column in columns.Where(column =>
            column.Role != ColumnRole.None && !used.Contains(column) && column != curveColumn))
            column.Take(ColumnRole.None, TablesText.WhyNotUsed(column.Why));
        return new Proposal(block, header, mark, columns, curves, curveColumn, _warnings);
    }

    private char Mark(Block block)
    {
        if (options.DecimalMark is { } said)
        {
            if (said is "." or ",") return said[0];
            if (said.Equals("point", StringComparison.OrdinalIgnoreCase)) return '.';
            if (said.Equals("comma", StringComparison.OrdinalIgnoreCase)) return ',';
            faults.Add(null, null, TablesText.DecimalNotKnown(said));
            return '.';
        }

        (char mark, Sentence? fault) = DecimalMark.Of(grid, block.FirstRow, block.LastRow).Decide();
        if (fault is not null) faults.Add(null, null, fault);
        return mark;
    }

    // Without names only what cannot be anything else is proposed: one column that rises by the same step is the time.
    private void GuessWithoutNames(List<ColumnGuess> columns)
    {
        if (options.ForceColumns is not null) return;
        ColumnGuess[] numbers = [.. columns.Where(column => column.Look.HasNumbers && column.Role == ColumnRole.None)];
        ColumnGuess[] steady = [.. numbers.Where(column => column.Look.IsSteady).OrderBy(column => column.Look.Unevenness)];
        // A crosshead at an even speed is nearly as steady as a clock, but only nearly.
        if (steady.Length > 1 && EvenerBy * steady[0].Look.Unevenness < steady[1].Look.Unevenness) steady = steady[..1];
        bool hasTime = columns.Any(column => column.Role == ColumnRole.Time) || options.TimeColumn is not null
            || options.RateHertz is not null;
        if (!hasTime && steady.Length == 1 && numbers.Length is 2 or 3)
        {
            steady[0].Take(ColumnRole.Time, TablesText.WhySteady);
            numbers = [.. numbers.Where(column => column != steady[0])];
        }
        else if (!hasTime)
        {
            return;
        }

        ColumnGuess[] rising = [.. numbers.Where(column => column.Look.Rises)];
        if (numbers.Length == 2 && rising.Length == 1)
        {
            rising[0].Take(ColumnRole.Position, TablesText.WhyRises);
            numbers = [.. numbers.Where(column => column != rising[0])];
        }

        if (numbers.Length != 1) return;
        numbers[0].Take(ColumnRole.Force, TablesText.WhyRest);
        _warnings.Add(TablesText.GuessedWithoutNames(numbers[0].Index + 1));
    }

    private List<ColumnGuess> Chosen(List<ColumnGuess> columns)
    {
        var chosen = new List<ColumnGuess>();
        foreach (string name in options.ForceColumns ?? [])
        {
            if (Find(columns, name, TablesText.OptionForceColumn) is not { } column || chosen.Contains(column)) continue;
            // What a converter gives stays what it is.
            column.Take(column.Role == ColumnRole.Counts && options.ForceUnit is null ? ColumnRole.Counts
                : ColumnRole.Force, TablesText.WhySaid);
            if (column.Unit is { Kind: not (UnitKind.Force or UnitKind.Mass) }) column.Unit = null;
            chosen.Add(column);
        }

        Take(columns, options.TimeColumn, ColumnRole.Time, TablesText.OptionTimeColumn);
        Take(columns, options.PositionColumn, ColumnRole.Position, TablesText.OptionPositionColumn);
        Unit(columns, options.ForceUnit, ColumnRole.Force, TablesText.OptionForceUnit, UnitKind.Force, UnitKind.Mass);
        Unit(columns, options.TimeUnit, ColumnRole.Time, TablesText.OptionTimeUnit, UnitKind.Time);
        Unit(columns, options.PositionUnit, ColumnRole.Position, TablesText.OptionPositionUnit, UnitKind.Length);
        if (options.RateHertz is not null || options.SpeedMillimetresPerSecond is not null)
        {
            foreach (ColumnGuess time in columns.Where(column => column.Role == ColumnRole.Time))
                time.Take(ColumnRole.None, TablesText.WhyRateSaid);
        }

        return chosen;
    }

    private void Take(List<ColumnGuess> columns, string? name, ColumnRole role, string option)
    {
        if (name is null) return;
        ColumnGuess? column = name.Equals(ReadingOptions.NoColumn, StringComparison.OrdinalIgnoreCase) ? null : Find(columns, name, option);
        foreach (ColumnGuess other in columns.Where(one => one.Role == role && one != column))
            other.Take(ColumnRole.None, TablesText.WhyOtherSaid);
        if (column is null) return;
        column.Take(role, TablesText.WhySaid);
        UnitKind kind = role == ColumnRole.Time ? UnitKind.Time : UnitKind.Length;
        if (column.Unit is not null && column.Unit.Kind != kind) column.Unit = null;
    }

    private void Unit(List<ColumnGuess> columns, string? symbol, ColumnRole role, string option, params UnitKind[] kinds)
    {
        if (symbol is null) return;
        if (UnitSymbol.Find(symbol) is not { } unit || !kinds.Contains(unit.Kind))
        {
            faults.Add(null, null, TablesText.UnitNotKnown(option, symbol, UnitSymbol.Known(kinds)));
            return;
        }

        foreach (ColumnGuess column in columns.Where(column => column.Role == role)) column.Unit = unit;
    }

    private ColumnGuess? Find(List<ColumnGuess> columns, string name, string option)
    {
        string wanted = name.Trim();
        ColumnGuess? found = columns.FirstOrDefault(column => column.Name.Equals(wanted, StringComparison.OrdinalIgnoreCase))
            ?? (int.TryParse(wanted, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number >= 1
                && number <= columns.Count ? columns[number - 1] : null);
        if (found is null) faults.Add(null, null, TablesText.ColumnNotThere(option, name, columns.Select(column => column.Spoken)));
        return found;
    }

    private ColumnGuess? CurveColumn(List<ColumnGuess> columns)
    {
        if (options.CurveColumn is { } name)
        {
            if (name.Equals(ReadingOptions.NoColumn, StringComparison.OrdinalIgnoreCase)) return null;
            ColumnGuess? said = Find(columns, name, TablesText.OptionCurveColumn);
            said?.Take(ColumnRole.Curve, TablesText.WhySaid);
            return said;
        }

        return columns.FirstOrDefault(column => column.Role == ColumnRole.Curve);
    }

    private void Check(List<ColumnGuess> columns, List<CurveColumns> curves, Header header)
    {
        int? line = header.Row < 0 ? null : grid.Line(header.Row);
        if (curves.Count == 0)
        {
            if (!faults.Any || options.ForceColumns is null)
                faults.Add(line, null, TablesText.NoForce(header.Row >= 0, columns.Select(column => column.Spoken)));
            return;
        }

        if (curves.Count > TableLimits.CurvesMax) faults.Add(line, null, TablesText.CurvesTooMany(TableLimits.CurvesMax));
        foreach (CurveColumns curve in curves)
        {
            if (options.SpeedMillimetresPerSecond is not null
                && curve.Position is null) faults.Add(line, null, TablesText.SpeedWithoutPosition);
            else if (curve.Time is null && options.RateHertz is null && options.SpeedMillimetresPerSecond is null)
                faults.Add(line, null, TablesText.NoTime(curve.Position is not null, columns.Select(column => column.Spoken)));
            else continue;
            break;
        }
    }

    private void SayWhatWasAssumed(List<CurveColumns> curves, List<ColumnGuess> others)
    {
        foreach (ColumnGuess force in curves.Select(curve => curve.Force).Where(force => force.Role == ColumnRole.Force))
        {
            if (force.Unit is null) Say(TablesText.AssumedForceUnit(force.Spoken));
            else if (force.Unit.Kind == UnitKind.Mass
                && options.ForceUnit is null) Say(TablesText.AssumedMass(force.Spoken, force.Unit.Symbol));
        }

        foreach (ColumnGuess time in curves.Select(curve => curve.Time).OfType<ColumnGuess>()
            .Where(time => time.Unit is null && !time.Look.IsClock))
            Say(TablesText.AssumedTimeUnit(time.Spoken, time.Look.CountsUp, time.Look.LooksLikeMilliseconds));
        foreach (ColumnGuess position in curves.Select(curve => curve.Position).OfType<ColumnGuess>()
            .Where(position => position.Unit is null))
            Say(TablesText.AssumedPositionUnit(position.Spoken));
        if (others.Count > 0) Say(TablesText.OtherForces(curves[0].Force.Spoken, others.Select(other => other.Spoken)));
    }

    private void Say(Sentence warning)
    {
        if (!_warnings.Contains(warning)) _warnings.Add(warning);
    }
}
