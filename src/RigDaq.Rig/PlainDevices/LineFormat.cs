using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>What the number in a line is.</summary>
public enum LineQuantity
{
    /// <summary>Anything that rises with the force: raw counts of a converter, or a figure whose unit is not known. It has to be
    /// calibrated.</summary>
    Counts,

    /// <summary>Grams, as a sketch prints that was scaled with a weight.</summary>
    Grams,

    /// <summary>Kilograms.</summary>
    Kilograms,

    /// <summary>Newtons.</summary>
    Newtons,
}

/// <summary>The unit of the time that a line carries.</summary>
public enum LineTimeUnit
{
    /// <summary>Seconds, with decimals.</summary>
    Seconds,

    /// <summary>Milliseconds; a 32-bit count of them wraps every 49.7 days.</summary>
    Milliseconds,

    /// <summary>Microseconds; a 32-bit count of them wraps every 71.6 minutes.</summary>
    Microseconds,
}

/// <summary>How the lines of a device that only prints numbers are read. Whatever the quantity, counts are what is kept: a value times
/// <see cref="CountsPerUnitInForce"/>, rounded, within 24 bits.</summary>
public sealed record LineFormat
{
    /// <summary>The greatest number of columns.</summary>
    public const int ColumnsMax = 64;

    /// <summary>What lies between two columns; null for blanks and tabs, as many as there are.</summary>
    public char? Separator { get; init; } = ',';

    /// <summary>Whether 12,5 is twelve and a half.</summary>
    public bool DecimalComma { get; init; }

    /// <summary>How many columns a whole line has; 0 where that is not held to. A line that was cut short mostly has fewer.</summary>
    public int Columns { get; init; }

    /// <summary>The column of the force, from 1.</summary>
    public int ForceColumn { get; init; } = 1;

    /// <summary>What stands in it.</summary>
    public LineQuantity Quantity { get; init; } = LineQuantity.Counts;

    /// <summary>How finely a unit is kept, above 0; null for 1 a count, 100 a gram, 10,000 a kilogram, 1,000 a newton.</summary>
    public double? CountsPerUnit { get; init; }

    /// <summary>The column of the device's own time, from 1; null where it prints none: stamps are then made on arrival.</summary>
    public int? TimeColumn { get; init; }

    /// <summary>The unit of that time.</summary>
    public LineTimeUnit TimeUnit { get; init; } = LineTimeUnit.Milliseconds;

    /// <summary>Lines that begin with it are comments; empty for none.</summary>
    public string CommentPrefix { get; init; } = "#";

    /// <summary>The resolution in force.</summary>
    public double CountsPerUnitInForce => CountsPerUnit ?? Quantity switch
    {
        LineQuantity.Grams => 100,
        LineQuantity.Kilograms => 10_000,
        LineQuantity.Newtons => 1_000,
        _ => 1,
    };

    /// <summary>A unit of the time in microseconds.</summary>
    public double TimeUnitMicroseconds => TimeUnit switch
    {
        LineTimeUnit.Seconds => 1e6,
        LineTimeUnit.Milliseconds => 1e3,
        _ => 1,
    };

    /// <summary>What is wrong with it, each in words; empty where nothing is.</summary>
    public IReadOnlyList<Sentence> Problems()
    {
        var problems = new List<Sentence>();
        int last = Columns > 0 ? Columns : ColumnsMax;
        if (Columns is < 0 or > ColumnsMax) problems.Add(RigText.ColumnsOutside(ColumnsMax, Columns));
        if (ForceColumn < 1 || ForceColumn > last) problems.Add(RigText.ForceColumnOutside(last, ForceColumn));
        if (TimeColumn is { } time && (time < 1 || time > last)) problems.Add(RigText.TimeColumnOutside(last, time));
        if (TimeColumn == ForceColumn) problems.Add(RigText.ForceAndTimeInOne);
        if (Separator is { } mark && (char.IsLetterOrDigit(mark) || mark is '.' or '-' or '+' or '\r' or '\n'))
            problems.Add(RigText.CannotSeparate(mark));
        if (DecimalComma && Separator == ',') problems.Add(RigText.CommaTwice);
        if (CountsPerUnit is { } resolution && !(resolution > 0 && double.IsFinite(resolution)))
            problems.Add(RigText.CountsPerUnitOutside(resolution));
        return problems;
    }

    /// <summary>What it says, in one sentence.</summary>
    public Sentence InWords() => RigText.Format(
        Columns switch
        {
            1 => RigText.OneNumber,
            > 0 => RigText.ColumnsBetween(Columns, LineUnits.Word(Separator)),
            _ => RigText.AnyColumnsBetween(LineUnits.Word(Separator)),
        },
        ForceColumn,
        Quantity.Word(),
        CountsPerUnitInForce.Equals(1),
        CountsPerUnitInForce,
        TimeColumn is { } column ? RigText.TimeStands(column, TimeUnit.Word()) : RigText.NoTime);
}
