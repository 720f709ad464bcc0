using System.Globalization;
using System.IO.Compression;
using System.Text;
using ExcelDataReader;
using RigDaq.Tables.Cells;
using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;

namespace RigDaq.Tables.Files;

/// <summary>One sheet of a workbook as a grid: numbers as they are kept (not as they are shown), with a decimal point. Sheets are
/// all.</summary>
internal sealed record WorkbookSheet(Grid Grid, string Name, IReadOnlyList<string> Sheets);

/// <summary>Reads .xlsx and .xls.</summary>
internal static class WorkbookReader
{
    private const string DocumentMark = "mimetype";

    /// <summary>Reads a sheet.</summary>
    /// <param name="bytes">The file.</param>
    /// <param name="wanted">A sheet by name or number from 1; null for the first.</param>
    /// <exception cref="TableRefusedException">It is no workbook, too large, or has no such sheet.</exception>
    public static WorkbookSheet Read(ReadOnlyMemory<byte> bytes, string? wanted)
    {
        if (bytes.Length > TableLimits.WorkbookBytesMax)
            throw new TableRefusedException(TablesText.WorkbookTooLong(TableLimits.WorkbookBytesMax));

        byte[] file = bytes.ToArray();
        bool packed = FileKind.IsZip(file);
        if (packed) CheckParts(file);
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        try
        {
            using var stream = new MemoryStream(file);
            using IExcelDataReader reader =
                packed ? ExcelReaderFactory.CreateOpenXmlReader(stream) : ExcelReaderFactory.CreateBinaryReader(stream);
            return Sheet(reader, wanted);
        }
        catch (Exception fault) when (fault is not (TableRefusedException or OutOfMemoryException))
        {
            // The library meets damage with whatever its own code runs into.
            throw new TableRefusedException(packed ? TablesText.WorkbookUnreadable : TablesText.OldWorkbookUnreadable);
        }
    }

    private static WorkbookSheet Sheet(IExcelDataReader reader, string? wanted)
    {
        var names = new List<string>();
        WorkbookSheet? found = null;
        do
        {
            names.Add(reader.Name);
            bool isWanted = wanted is null ? names.Count == 1 : string.Equals(reader.Name, wanted, StringComparison.OrdinalIgnoreCase)
                || wanted == names.Count.ToString(CultureInfo.InvariantCulture);
            if (isWanted && found is null) found = new WorkbookSheet(Cells(reader), reader.Name, names);
        }
        while (names.Count < TableLimits.WorkbookPartsMax && reader.NextResult());

        return found ?? throw new TableRefusedException(TablesText.SheetNotThere(wanted ?? "", names));
    }

    private static Grid Cells(IExcelDataReader reader)
    {
        var text = new StringBuilder();
        var places = new List<(int Line, int Start, int Length)>();
        int line = 0;
        while (reader.Read())
        {
            line++;
            if (reader.FieldCount > TableLimits.ColumnsMax)
                throw new TableRefusedException(TablesText.ColumnsTooMany(line, TableLimits.ColumnsMax));
            for (int column = 0; column < reader.FieldCount; column++)
            {
                string cell = Text(reader.GetValue(column));
                if (text.Length + cell.Length > TableLimits.TextBytesMax)
                    throw new TableRefusedException(TablesText.WorkbookUnpacksTooLong(TableLimits.TextBytesMax));

                places.Add((line, text.Length, cell.Length));
                if (places.Count > TableLimits.CellsMax) throw new TableRefusedException(TablesText.CellsTooMany(TableLimits.CellsMax));
                text.Append(cell);
            }
        }

        var grid = new Grid(text.ToString());
        int row = 0;
        foreach ((int at, int start, int length) in places)
        {
            if (at != row) grid.BeginRow(row = at);
            grid.Add(start, length);
        }

        return grid;
    }

    private static string Text(object? value) => value switch
    {
        null => "",
        double number => number.ToString("R", CultureInfo.InvariantCulture),
        DateTime moment => moment.ToString("yyyy-MM-dd HH:mm:ss.fffffff", CultureInfo.InvariantCulture),
        TimeSpan span
            =>
            FormattableString.Invariant($"{(int)span.TotalHours}:{span.Minutes:00}:{span.Seconds:00}.{span.Ticks % TimeSpan.TicksPerSecond:0000000}"),
        _ => Convert.ToString(value, CultureInfo.InvariantCulture) ?? "",
    };

    // The framework gives no more of a part than it declares: what is declared bounds what is unpacked.
    private static void CheckParts(byte[] file)
    {
        try
        {
            using var archive = new ZipArchive(new MemoryStream(file), ZipArchiveMode.Read);
            if (archive.Entries.Count > TableLimits.WorkbookPartsMax
                || archive.Entries.Any(part => part.Length > TableLimits.UnpackedBytesMax)
                || archive.Entries.Sum(part => part.Length) > TableLimits.UnpackedBytesMax)
                throw new TableRefusedException(TablesText.WorkbookUnpacksTooLong(TableLimits.UnpackedBytesMax));
            if (archive.GetEntry(DocumentMark) is not null) throw new TableRefusedException(TablesText.KindOpenDocument);
            if (archive.Entries.All(part => !part.FullName.StartsWith("xl/", StringComparison.OrdinalIgnoreCase)))
                throw new TableRefusedException(TablesText.KindPacked);
        }
        catch (InvalidDataException)
        {
            throw new TableRefusedException(TablesText.WorkbookUnreadable);
        }
    }
}
