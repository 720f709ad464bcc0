using RigDaq.Tables.Text;
using RigDaq.Text;

namespace RigDaq.Tables.Readings;

/// <summary>Collects the faults of a file; what is beyond the limit is counted.</summary>
internal sealed class FaultList
{
    private readonly List<TableFault> _told = [];
    private int _more;

    public bool Any => _told.Count > 0;

    public void Add(int? line, string? column, Sentence problem)
    {
        if (_told.Count < TableLimits.FaultsMax) _told.Add(new TableFault(line, column, problem));
        else _more++;
    }

    public IReadOnlyList<TableFault> All() => _more == 0 ? _told : [.. _told, new TableFault(null, null, TablesText.FaultsMore(_more))];
}
