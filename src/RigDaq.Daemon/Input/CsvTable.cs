using System.Globalization;
using System.Text;
using CsvHelper;
using CsvHelper.Configuration;

namespace RigDaq.Daemon.Input;

/// <summary>
/// A table read from a file of comma-separated values with a header. Lines that start with # are comments, empty lines are
/// skipped, columns may stand in any order and further columns are left alone. Every fault names file, line and column.
/// </summary>
internal sealed class CsvTable
{
    /// <summary>The longest file that is read, in bytes: a trace of ten hours at 1,000 samples/s fits.</summary>
    public const long FileBytesMax = 1L << 30;

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
    public static CsvTable Read(string file, params string[] required)
    {
        if (Directory.Exists(file)) throw InputException.In(file, "this is a folder; a CSV file was expected.");
        if (!System.IO.File.Exists(file)) throw InputException.In(file, "there is no such file.");
        if (new FileInfo(file).Length > FileBytesMax) throw InputException.In(file, $"longer than {FileBytesMax} bytes, the most that is read.");
        using var reader = new StreamReader(file, new UTF8Encoding(false, true), detectEncodingFromByteOrderMarks: true);
        try
        {
            return Read(file, reader, required);
        }
        catch (DecoderFallbackException fault)
        {
            throw new InputException($"{file}: not UTF-8 text; save the table as UTF-8.", fault);
        }
        catch (UnauthorizedAccessException fault)
        {
            throw new InputException($"{file}: no permission to read it.", fault);
        }
    }

    /// <summary>Reads from a text; <paramref name="file"/> names it in messages.</summary>
    public static CsvTable Read(string file, TextReader reader, params string[] required)
    {
        var configuration = new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            AllowComments = true,
            Comment = '#',
            TrimOptions = TrimOptions.Trim,
            BadDataFound = bad => throw InputException.At(file, bad.Context.Parser?.RawRow ?? 0, "a quotation mark in the wrong place."),
        };
        using var parser = new CsvParser(reader, configuration);
        if (!parser.Read()) throw InputException.In(file, "empty; a header line was expected.");
        string[] header = parser.Record!;
        var columns = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int i = 0; i < header.Length; i++)
        {
            if (header[i].Length > 0 && !columns.TryAdd(header[i], i))
                throw InputException.At(file, parser.RawRow, $"the header names the column {header[i]} twice.");
        }

        string[] missing = [.. required.Where(column => !columns.ContainsKey(column))];
        if (missing.Length > 0)
            throw InputException.At(file, parser.RawRow, MissingColumns(missing, header));
        var table = new List<CsvRow>();
        while (parser.Read())
        {
            string[] cells = parser.Record!;
            if (cells.Length == 1 && cells[0].Length == 0) continue;
            if (cells.Length != header.Length)
            {
                throw InputException.At(file, parser.RawRow, $"{cells.Length} cells where the header names {header.Length} columns"
                    + (cells.Length > header.Length ? " (a decimal comma? use a point)." : "."));
            }

            table.Add(new CsvRow(file, parser.RawRow, columns, cells));
        }

        return new CsvTable(file, columns, table);
    }

    private static string MissingColumns(string[] missing, string[] header)
    {
        string hint = header.Length == 1 && header[0].Contains(';', StringComparison.Ordinal) ? " Cells are separated by commas, not semicolons." : "";
        return $"the header lacks the column{(missing.Length > 1 ? "s" : "")} {string.Join(", ", missing)}.{hint}";
    }
}

/// <summary>One row of a table.</summary>
internal sealed class CsvRow(string file, int line, Dictionary<string, int> columns, string[] cells)
{
    /// <summary>The line in the file, from 1.</summary>
    public int Line { get; } = line;

    /// <summary>The text of a cell, trimmed; empty where the column is not there.</summary>
    public string Text(string column) => columns.TryGetValue(column, out int i) ? cells[i] : "";

    /// <summary>A finite number.</summary>
    /// <exception cref="InputException">The cell is empty, no number or not finite.</exception>
    public double Number(string column)
    {
        string text = Text(column);
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value)) return value;
        throw Fault(column, text.Length == 0
            ? "empty; a number was expected."
            : text.Contains(',', StringComparison.Ordinal)
                ? $"“{text}” has a comma; write the number with a decimal point."
                : $"“{text}” is not a finite number.");
    }

    /// <summary>A finite number, or null where the cell is empty.</summary>
    public double? NumberOrNull(string column) => Text(column).Length == 0 ? null : Number(column);

    /// <summary>A decimal number, or null where the cell is empty.</summary>
    public decimal? DecimalOrNull(string column)
    {
        string text = Text(column);
        if (text.Length == 0) return null;
        if (decimal.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out decimal value)) return value;
        throw Fault(column, $"“{text}” is not a decimal number{(text.Contains(',', StringComparison.Ordinal) ? "; write it with a decimal point" : "")}.");
    }

    /// <summary>A fault in one of this row's cells.</summary>
    public InputException Fault(string column, string problem) => InputException.At(file, Line, column, problem);
}
