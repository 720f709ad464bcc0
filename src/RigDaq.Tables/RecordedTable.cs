using RigDaq.Tables.Cells;
using RigDaq.Tables.Curves;
using RigDaq.Tables.Files;
using RigDaq.Tables.Layout;
using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;
using RigDaq.Text;

namespace RigDaq.Tables;

/// <summary>
/// Reads recordings that other programs wrote: bytes become cells, cells a proposal of what each column is, and that becomes curves in SI.
/// A pure function; whatever is wrong with the file comes back as faults, all at once, with as much of the proposal as there is.
/// </summary>
public static class RecordedTable
{
    private const int PreviewRows = 8;
    private const int PreviewColumns = 40;

    /// <summary>Reads a file.</summary>
    /// <param name="bytes">Its content, up to <see cref="TableLimits.TextBytesMax"/>.</param>
    /// <param name="options">What a person says about it.</param>
    public static TableReading Read(ReadOnlyMemory<byte> bytes, ReadingOptions options)
    {
        var faults = new FaultList();
        var reading = new TableReading();
        try
        {
            CheckOptions(options, faults);
            Grid grid = Cells(bytes, options, ref reading);
            return OfGrid(grid, options, faults, reading);
        }
        catch (TableRefusedException refused)
        {
            faults.Add(null, null, refused.Sentence);
            return reading with { Faults = faults.All() };
        }
    }

    private static void CheckOptions(ReadingOptions options, FaultList faults)
    {
        if (options.Sign is { } sign && !sign.Equals(ReadingOptions.KeepSign, StringComparison.OrdinalIgnoreCase)
            && !sign.Equals(ReadingOptions.TurnSign, StringComparison.OrdinalIgnoreCase))
            faults.Add(null, null, TablesText.SignNotKnown(sign));
        if (options.RateHertz is not (null or (> 0 and < double.PositiveInfinity))) faults.Add(null, null, TablesText.RateAboveZero);
        if (options.SpeedMillimetresPerSecond is not (null or (> 0 and < double.PositiveInfinity)))
            faults.Add(null, null, TablesText.SpeedAboveZero);
        if (options.RateHertz is not null && options.SpeedMillimetresPerSecond is not null) faults.Add(null, null, TablesText.RateAndSpeed);
        if (options.SkipLines is < 0) faults.Add(null, null, TablesText.SkipNegative);
    }

    private static Grid Cells(ReadOnlyMemory<byte> bytes, ReadingOptions options, ref TableReading reading)
    {
        if (bytes.IsEmpty) throw new TableRefusedException(TablesText.TableEmpty);
        if (FileKind.Refusal(bytes.Span) is { } refusal) throw new TableRefusedException(refusal);
        if (FileKind.IsZip(bytes.Span) || FileKind.IsCompound(bytes.Span))
        {
            WorkbookSheet sheet = WorkbookReader.Read(bytes, options.Sheet);
            reading = reading with { Encoding = "workbook", Sheet = sheet.Name, Sheets = sheet.Sheets };
            return sheet.Grid;
        }

        if (options.Sheet is not null) throw new TableRefusedException(TablesText.SheetOfText);
        if (bytes.Length > TableLimits.TextBytesMax) throw new TableRefusedException(TablesText.TextTooLong(TableLimits.TextBytesMax));
        (string text, string encoding) = TextDecoding.Decode(bytes.Span, options.Encoding);
        reading = reading with { Encoding = encoding };
        if (text.Contains('\0')) throw new TableRefusedException(TablesText.KindBinary);
        char separator = SeparatorFinder.Find(text, options.SkipLines ?? 0, options.Separator);
        reading = reading with { Separator = SeparatorFinder.NameOf(separator) };
        return TextSplitter.Split(text, separator);
    }

    private static TableReading OfGrid(Grid grid, ReadingOptions options, FaultList faults, TableReading reading)
    {
        if (new LayoutProposer(grid, options, faults).Propose() is not { } proposal)
        {
            if (reading.Sheets.Count > 1) faults.Add(null, null, TablesText.SheetOthers(reading.Sheet!, reading.Sheets));
            return reading with { Faults = faults.All() };
        }

        bool hasHeader = proposal.Header.Row >= 0;
        reading = reading with
        {
            DecimalMark = proposal.Mark.ToString(),
            HeaderLine = hasHeader ? grid.Line(proposal.Header.Row) : null,
            FirstLine = grid.Line(proposal.Block.FirstRow),
            TimesFrom = options.RateHertz is not null ? "rate" : options.SpeedMillimetresPerSecond is not null ? "speed" : "column",
            Columns = [.. proposal.Columns.Select(column =>
                new ColumnReading(column.Index + 1, column.Name, column.Role, column.UnitShown, column.Why))],
            Preview = Preview(grid, hasHeader ? proposal.Header.Row : proposal.Block.FirstRow),
            Used = UsedOptions.Of(proposal, options, reading),
        };
        if (faults.Any) return reading with { Warnings = proposal.Warnings, Faults = faults.All() };
        List<Sentence> warnings = [.. proposal.Warnings];
        List<CurveBuilder> built = new CurveReader(grid, proposal, faults, warnings).Read();
        if (built.Count == 0 && !faults.Any) faults.Add(null, null, TablesText.TableWithoutRows);
        if (faults.Any) return reading with { Warnings = warnings, Faults = faults.All() };
        var finisher = new CurveFinisher(options, faults);
        List<RecordedCurve> curves = finisher.Finish(built, proposal.Curves[0].Force.Role == ColumnRole.Counts);
        return reading with
        {
            Curves = faults.Any ? [] : curves,
            Turned = finisher.Turned,
            Warnings = warnings,
            Faults = faults.All()
        };
    }

    private static List<IReadOnlyList<string>> Preview(Grid grid, int from)
    {
        var rows = new List<IReadOnlyList<string>>();
        for (int row = from; row < grid.Rows && rows.Count < PreviewRows; row++)
        {
            if (grid.IsBlank(row)) continue;
            int at = row;
            rows.Add([.. Enumerable.Range(0, Math.Min(grid.Count(row), PreviewColumns)).Select(column => Shown(grid.Text(at, column)))]);
        }

        return rows;
    }

    private static string Shown(string cell) => cell.Length <= TableLimits.CellShownMax ? cell : cell[..TableLimits.CellShownMax] + "…";
}
