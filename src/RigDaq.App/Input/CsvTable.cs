using System.Globalization;
using System.Text;
using CsvHelper;
using CsvHelper.Configuration;
using RigDaq.App.Text;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Input;

/// <summary>A table read from a file of comma-separated values with a header. Lines that start with # are comments, empty lines are
/// skipped, columns may stand in any order and further columns are left alone. Every fault names file, line and column.</summary>
internal sealed class CsvTable
{
    /// <summary>The longest file that is read, in bytes: a trace of ten hours at 1,000 samples/s fits.</summary>
    public const long FileBytesMax = 1L << 30;

    /// <summary>The longest cell, in characters.</summary>
    public const int CellCharactersMax = 1 << 20;

    private readonly Dictionary<string, int> _columns;

    private CsvTable(string file, Dictionary<string, int> columns, IReadOnlyList<CsvRow> rows)
    {
        File = file;
        _columns = columns;
        Rows = rows;
    }

    /// <summary>The file as the person named it.</summary>
    public string File { get; }

    /// <summary>The rows below the header.</summary>
    public IReadOnlyList<CsvRow> Rows { get; }

    /// <summary>Whether the header names a column.</summary>
    public bool Has(string column) => _columns.ContainsKey(column);

    /// <summary>Reads a file.</summary>
    /// <param name="file">Its path.</param>
    /// <param name="required">The columns that must be there.</param>
    /// <exception cref="InputException">The file is missing, empty, too long, lacks a column or has a malformed line.</exception>
    public static CsvTable Read(string file, params string[] required) => Read(file, faults: null, required);

    /// <summary>Reads a file; faults of single lines are collected instead of thrown, and their lines left out.</summary>
    /// <param name="file">Its path.</param>
    /// <param name="faults">Where they go; null throws the first.</param>
    /// <param name="required">The columns that must be there.</param>
    /// <exception cref="InputException">The file is missing, empty, too long or lacks a column.</exception>
    public static CsvTable Read(string file, InputFaults? faults, params string[] required)
    {
        if (Directory.Exists(file)) throw InputException.In(file, AppText.InputIsFolder);
        if (!System.IO.File.Exists(file)) throw InputException.In(file, AppText.InputNoSuchFile);
        using var reader = new StreamReader(BoundedFile.Open(file, FileBytesMax), new UTF8Encoding(false, true),
            detectEncodingFromByteOrderMarks: true);
        try
        {
            return Read(file, reader, faults, required);
        }
        catch (MaxFieldSizeException fault)
        {
            throw new InputException(AppText.InputIn(file, AppText.InputCellTooLong(CellCharactersMax)), fault);
        }
        catch (DecoderFallbackException fault)
        {
            throw new InputException(AppText.InputNotUtf8(file), fault);
        }
        catch (UnauthorizedAccessException fault)
        {
            throw new InputException(AppText.InputNoPermission(file), fault);
        }
    }

    /// <summary>Reads from a text; <paramref name="file"/> names it in messages.</summary>
    public static CsvTable Read(string file, TextReader reader, params string[] required) => Read(file, reader, faults: null, required);

    private static CsvTable Read(string file, TextReader reader, InputFaults? faults, string[] required)
    {
        var configuration = new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            AllowComments = true,
            Comment = '#',
            // One cell that never ends (a device, a binary file) is no table.
            MaxFieldSize = CellCharactersMax,
            TrimOptions = TrimOptions.Trim,
            BadDataFound = bad => throw InputException.At(file, bad.Context.Parser?.RawRow ?? 0, AppText.InputQuotationMark),
        };
        using var parser = new CsvParser(reader, configuration);
        if (!parser.Read()) throw InputException.In(file, AppText.InputEmpty);
        string[] header = parser.Record!;
        var columns = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int i = 0; i < header.Length; i++)
        {
            if (header[i].Length > 0 && !columns.TryAdd(header[i], i))
                throw InputException.At(file, parser.RawRow, AppText.InputColumnTwice(header[i]));
        }

        string[] missing = [.. required.Where(column => !columns.ContainsKey(column))];
        if (missing.Length > 0)
            throw InputException.At(file, parser.RawRow,
                AppText.InputColumnsMissing(missing, header.Length == 1 && header[0].Contains(';', StringComparison.Ordinal)));
        var table = new List<CsvRow>();
        while (parser.Read())
        {
            string[] cells = parser.Record!;
            if (cells.Length == 1 && cells[0].Length == 0) continue;
            if (cells.Length != header.Length)
            {
                var fault = InputException.At(file, parser.RawRow, cells.Length > header.Length
                    ? AppText.InputCellsTooMany(cells.Length, header.Length) : AppText.InputCellsTooFew(cells.Length, header.Length));
                (faults ?? throw fault).Add(fault);
                continue;
            }

            if (Array.Find(cells, cell => !PlainText.IsPlain(cell, ofSeveralLines: true)) is { } odd)
            {
                var fault = InputException.At(file, parser.RawRow, AppText.InputNotPlain(PlainText.Shown(odd)));
                (faults ?? throw fault).Add(fault);
                continue;
            }

            table.Add(new CsvRow(file, parser.RawRow, columns, cells));
        }

        return new CsvTable(file, columns, table);
    }
}

/// <summary>One row of a table.</summary>
internal sealed class CsvRow(string file, int line, Dictionary<string, int> columns, string[] cells)
{
    /// <summary>The line in the file, from 1.</summary>
    public int Line { get; } = line;

    /// <summary>The text of a cell, trimmed; empty where the column is not there.</summary>
    public string Text(string column) => columns.TryGetValue(column, out int i) ? SpreadsheetText.Unguarded(cells[i]) : "";

    /// <summary>A finite number.</summary>
    /// <exception cref="InputException">The cell is empty, no number or not finite.</exception>
    public double Number(string column) => TryNumber(column, out double value) ? value : throw NoNumber(column);

    /// <summary>Whether a cell is a finite number, and which.</summary>
    public bool TryNumber(string column, out double value) =>
        double.TryParse(Text(column), NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);

    /// <summary>Why a cell is no finite number.</summary>
    public InputException NoNumber(string column)
    {
        string text = Text(column);
        return Fault(column, text.Length == 0
            ? AppText.InputCellEmpty
            : text.Contains(',', StringComparison.Ordinal)
                ? AppText.InputComma(text)
                : AppText.InputNotFinite(text));
    }

    /// <summary>A finite number, or null where the cell is empty.</summary>
    public double? NumberOrNull(string column) => Text(column).Length == 0 ? null : Number(column);

    /// <summary>A decimal number, or null where the cell is empty.</summary>
    public decimal? DecimalOrNull(string column)
    {
        string text = Text(column);
        if (text.Length == 0) return null;
        if (decimal.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out decimal value)) return value;
        throw Fault(column, AppText.InputNotDecimal(text, text.Contains(',', StringComparison.Ordinal)));
    }

    /// <summary>A fault in one of this row's cells.</summary>
    public InputException Fault(string column, string problem) => InputException.At(file, Line, column, problem);
}
