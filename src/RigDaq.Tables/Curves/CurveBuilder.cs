using RigDaq.Text;

namespace RigDaq.Tables.Curves;

/// <summary>One curve while its rows are read.</summary>
/// <param name="names">What it is called: its section, its own name in the table, its columns; empty ones do not count.</param>
/// <param name="line">Where it begins.</param>
internal sealed class CurveBuilder(IReadOnlyList<string> names, int line)
{
    public List<double> Times { get; } = [];

    public List<double> Values { get; } = [];

    public List<double> Positions { get; } = [];

    public int FirstLine { get; } = line;

    public int LastLine { get; set; } = line;

    public List<Sentence> Warnings { get; } = [];

    /// <summary>The time of the row before, in the file's own count.</summary>
    public double LastTime { get; set; } = double.NaN;

    /// <summary>What is added to clock times because midnight passed.</summary>
    public double DaysSeconds { get; set; }

    /// <summary>The numbers of its columns, from 1.</summary>
    public IReadOnlyList<int> Columns { get; init; } = [];

    /// <summary>Whether its times are times of day.</summary>
    public bool IsClock { get; init; }

    /// <summary>Its parts of a name.</summary>
    public IReadOnlyList<string> Names { get; } = names;

    public bool HasValue => Values.Exists(double.IsFinite);

    /// <summary>Takes off what has no value at the beginning and at the end: a shorter curve beside longer ones.</summary>
    public void Trim()
    {
        int last = Values.FindLastIndex(double.IsFinite) + 1;
        foreach (List<double> column in new[] { Times, Values, Positions })
        {
            if (column.Count > last) column.RemoveRange(last, column.Count - last);
        }

        int first = Math.Max(0, Values.FindIndex(double.IsFinite));
        foreach (List<double> column in new[] { Times, Values, Positions }) column.RemoveRange(0, Math.Min(first, column.Count));
    }
}
