using RigDaq.Web.Views;

namespace RigDaq.Daemon.Watching;

/// <summary>What a terminal that watches knows of the rig: its last state, its last results, its last seconds of force. Safe for several
/// threads.</summary>
internal sealed class WatchSight
{
    /// <summary>So many results are shown.</summary>
    public const int ResultsMax = 8;

    private readonly Lock _lock = new();
    private readonly WatchTrace _trace = new();
    private readonly List<RunView> _results = [];

    /// <summary>The rig's name; empty before it is known.</summary>
    public string RigName { get; private set; } = "";

    /// <summary>What it does now; null before that is known, and while nobody answers.</summary>
    public StateView? State { get; private set; }

    /// <summary>The last results, the latest first.</summary>
    public IReadOnlyList<RunView> Results
    {
        get
        {
            lock (_lock) return [.. _results];
        }
    }

    /// <summary>Takes the state.</summary>
    /// <returns>Whether it says something else than the one before, but for the force.</returns>
    public bool See(StateView? state)
    {
        lock (_lock)
        {
            bool isNew = SaidBy(state) != SaidBy(State);
            State = state;
            if (state?.LastRun is not { } run || _results.Any(known => known.RunId == run.RunId)) return isNew;
            _results.Insert(0, run);
            if (_results.Count > ResultsMax) _results.RemoveAt(ResultsMax);
            return true;
        }
    }

    /// <summary>Takes the rig's name.</summary>
    public void Greet(HelloView hello) => RigName = hello.RigName;

    /// <summary>Takes live blocks.</summary>
    public void Add(ReadOnlySpan<byte> blocks)
    {
        lock (_lock) _trace.Add(blocks);
    }

    /// <summary>The last seconds as columns, and whether they are counts.</summary>
    public ((float Low, float High)[] Columns, bool IsCounts) Trace(int columns)
    {
        lock (_lock) return (_trace.Columns(columns), _trace.IsCounts);
    }

    private static (string?, string?, string?, string?, int?) SaidBy(StateView? state) => (state?.Link, state?.Sequence?.Stage,
        state?.Sequence?.Reason, state?.Sequence?.SpecimenId, state?.Faults.Count);
}
