using RigDaq.App.Text;

namespace RigDaq.App.Input;

/// <summary>Collects what is wrong with a file, so that a person mends it once; what is beyond the limit is counted.</summary>
internal sealed class InputFaults
{
    /// <summary>So many are told.</summary>
    public const int ToldMax = 20;

    private readonly List<string> _told = [];
    private int _more;

    public void Add(InputException fault)
    {
        if (_told.Count < ToldMax) _told.Add(fault.Message);
        else _more++;
    }

    /// <summary>A number of a row; NaN where there is none, and the fault is collected.</summary>
    public double Read(CsvRow row, string column)
    {
        if (row.TryNumber(column, out double value)) return value;
        Add(row.NoNumber(column));
        return double.NaN;
    }

    /// <exception cref="InputException">There are faults; the message has all of them, one a line.</exception>
    public void ThrowIfAny()
    {
        if (_told.Count == 0) return;
        if (_more > 0) _told.Add(AppText.InputFaultsMore(_more));
        throw new InputException(string.Join(Environment.NewLine, _told));
    }
}
