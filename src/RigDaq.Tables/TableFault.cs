using RigDaq.Tables.Text;

namespace RigDaq.Tables;

/// <summary>Something in a file that keeps it from being read.</summary>
/// <param name="Line">Where, from 1; null where it is the whole file's.</param>
/// <param name="Column">The column's name; null where it is the whole line's.</param>
/// <param name="Problem">What is wrong, what was expected and what to do.</param>
public sealed record TableFault(int? Line, string? Column, string Problem)
{
    /// <summary>The place and the problem in one sentence, without the file's name.</summary>
    public override string ToString() => TablesText.Fault(Line, Column, Problem);
}

/// <summary>Collects the faults of a file; what is beyond the limit is counted.</summary>
internal sealed class FaultList
{
    private readonly List<TableFault> _told = [];
    private int _more;

    public bool Any => _told.Count > 0;

    public void Add(int? line, string? column, string problem)
    {
        if (_told.Count < TableLimits.FaultsMax) _told.Add(new TableFault(line, column, problem));
        else _more++;
    }

    public IReadOnlyList<TableFault> All() =>
        _more == 0 ? _told : [.. _told, new TableFault(null, null, TablesText.FaultsMore(_more))];
}

/// <summary>The file as a whole cannot be read; the fault says why.</summary>
internal sealed class TableRefusedException(string problem) : Exception(problem);
