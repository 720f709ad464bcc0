using System.Globalization;
using System.Text;
using RigDaq.Core.Quantities;

namespace RigDaq.Archive.Packages;

/// <summary>A column of a table, as the Data Package standard describes it.</summary>
/// <param name="Name">With the unit last.</param>
/// <param name="Type">string, number, integer, boolean or datetime.</param>
/// <param name="Description">What it is.</param>
/// <param name="Unit">Its unit; null where it has none.</param>
internal sealed record PackageField(string Name, string Type, string Description, string? Unit = null);

/// <summary>A table of a package.</summary>
/// <param name="Name">Fit for a file name.</param>
/// <param name="Title">What it holds.</param>
/// <param name="Fields">Its columns.</param>
/// <param name="Rows">Cells; null is a missing value.</param>
/// <param name="PrimaryKey">The columns that name a row; empty for none.</param>
internal sealed record PackageTable(
    string Name, string Title, IReadOnlyList<PackageField> Fields, IEnumerable<IReadOnlyList<object?>> Rows,
        IReadOnlyList<string> PrimaryKey)
{
    /// <summary>As CSV by RFC 4180 with a header, in UTF-8, numbers in the invariant culture and so that they read back the same.</summary>
    public void WriteCsv(Stream stream)
    {
        using var writer = new StreamWriter(stream, new UTF8Encoding(false), leaveOpen: true) { NewLine = "\r\n" };
        writer.WriteLine(string.Join(',', Fields.Select(field => field.Name)));
        foreach (IReadOnlyList<object?> row in Rows) writer.WriteLine(string.Join(',', row.Select(Cell)));
    }

    private static string Cell(object? value) => value switch
    {
        null => "",
        bool truth => truth ? "true" : "false",
        double number => double.IsFinite(number) ? number.ToString("R", CultureInfo.InvariantCulture) : "",
        // Whole seconds: readers by the first version of the standard take no others; the records hold the rest.
        DateTimeOffset at => at.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => Quoted(SpreadsheetText.Guarded(value.ToString()!)),
    };

    // A quoted empty text is not a missing value to a careful reader.
    private static string Quoted(string text) =>
        text.Length == 0 || text.AsSpan().IndexOfAny(",\"\r\n") >= 0 ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
}
