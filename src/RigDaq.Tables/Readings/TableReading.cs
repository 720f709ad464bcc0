using RigDaq.Text;

namespace RigDaq.Tables.Readings;

/// <summary>What a column stands for.</summary>
public enum ColumnRole
{
    /// <summary>Nothing that a curve needs.</summary>
    None,

    /// <summary>The force, in a unit of force or of mass.</summary>
    Force,

    /// <summary>What a converter gave, without a unit.</summary>
    Counts,

    /// <summary>The time.</summary>
    Time,

    /// <summary>Where the crosshead was, or an extension.</summary>
    Position,

    /// <summary>Which curve a row belongs to.</summary>
    Curve,
}

/// <summary>What a column of a table is taken for.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Name">As the header has it; empty where there is none.</param>
/// <param name="Role">What it is taken for.</param>
/// <param name="Unit">The unit's symbol; empty where it has none; <c>clock</c> for times of day.</param>
/// <param name="Why">Why, in words.</param>
public sealed record ColumnReading(int Number, string Name, ColumnRole Role, string Unit, Sentence Why);

/// <summary>One curve of a table, in SI.</summary>
public sealed record RecordedCurve
{
    /// <summary>Its name in the file; empty where it is the only one.</summary>
    public required string Name { get; init; }

    /// <summary>The line of its first row.</summary>
    public required int FirstLine { get; init; }

    /// <summary>The line of its last row.</summary>
    public required int LastLine { get; init; }

    /// <summary>When, in seconds; never falling.</summary>
    public required double[] TimesSeconds { get; init; }

    /// <summary>The force in newtons, or counts; NaN where the file had none.</summary>
    public required double[] Values { get; init; }

    /// <summary>Whether the values are counts.</summary>
    public bool InCounts { get; init; }

    /// <summary>The position in mm at each, or null.</summary>
    public double[]? PositionsMillimetres { get; init; }

    /// <summary>The numbers of its columns, from 1.</summary>
    public IReadOnlyList<int> Columns { get; init; } = [];

    /// <summary>What was assumed for this curve alone, in words.</summary>
    public IReadOnlyList<Sentence> Warnings { get; init; } = [];
}

/// <summary>How a table was read, what it holds and what is wrong with it.</summary>
public sealed record TableReading
{
    /// <summary>How the text is encoded; <c>workbook</c> for one.</summary>
    public string Encoding { get; init; } = "";

    /// <summary>The sheet that was read; null where it is no workbook.</summary>
    public string? Sheet { get; init; }

    /// <summary>A workbook's sheets.</summary>
    public IReadOnlyList<string> Sheets { get; init; } = [];

    /// <summary>What stands between cells: a character, <c>tab</c> or <c>space</c>; null for a workbook.</summary>
    public string? Separator { get; init; }

    /// <summary>What stands before decimals.</summary>
    public string DecimalMark { get; init; } = ".";

    /// <summary>The line with the names of columns; null where there is none.</summary>
    public int? HeaderLine { get; init; }

    /// <summary>The first line with numbers; null where none was found.</summary>
    public int? FirstLine { get; init; }

    /// <summary>Where the times come from: column, rate or speed.</summary>
    public string TimesFrom { get; init; } = "";

    /// <summary>Whether the force's sign was turned.</summary>
    public bool Turned { get; init; }

    /// <summary>All columns and what they are taken for.</summary>
    public IReadOnlyList<ColumnReading> Columns { get; init; } = [];

    /// <summary>The first rows as they stand in the file, from the header on, for a person to look at.</summary>
    public IReadOnlyList<IReadOnlyList<string>> Preview { get; init; } = [];

    /// <summary>The curves; none where there are faults.</summary>
    public IReadOnlyList<RecordedCurve> Curves { get; init; } = [];

    /// <summary>What was assumed for the whole file, in words.</summary>
    public IReadOnlyList<Sentence> Warnings { get; init; } = [];

    /// <summary>What keeps the file from being read, all of it.</summary>
    public IReadOnlyList<TableFault> Faults { get; init; } = [];

    /// <summary>What was used, as options: a layout that reads the next file of this kind in the same way.</summary>
    public ReadingOptions Used { get; init; } = new();
}
