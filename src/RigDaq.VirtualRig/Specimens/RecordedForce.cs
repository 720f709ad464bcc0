namespace RigDaq.Virtual;

/// <summary>What a specimen that somebody once pulled did to a cell, over time: played again from when the crosshead begins to move,
/// whatever its speed. After its end the last force stands.</summary>
public sealed class RecordedForce
{
    private readonly double[] _seconds;
    private readonly double[] _newtons;

    /// <summary>Takes a recording.</summary>
    /// <param name="seconds">Rising or equal; the first is its beginning.</param>
    /// <param name="newtons">One a time, finite; pulls are positive.</param>
    /// <exception cref="ArgumentException">They differ in number, are fewer than two, fall in time, or hold what is no number.</exception>
    public RecordedForce(IReadOnlyList<double> seconds, IReadOnlyList<double> newtons)
    {
        (_seconds, _newtons) = ([.. seconds], [.. newtons]);
        bool rises = _seconds.Zip(_seconds.Skip(1), (before, after) => after >= before).All(holds => holds);
        if (_seconds.Length < 2 || _seconds.Length != _newtons.Length || !rises || !_seconds.Concat(_newtons).All(double.IsFinite))
            throw new ArgumentException("A recorded force has two samples or more, in order of time, each a number.", nameof(seconds));
    }

    /// <summary>How long it lasts, in seconds.</summary>
    public double LastsSeconds => _seconds[^1] - _seconds[0];

    /// <summary>The force so long after its beginning, between two samples by a line; the first before it, the last after it.</summary>
    public double At(double seconds)
    {
        double time = _seconds[0] + seconds;
        int at = Array.BinarySearch(_seconds, time);
        if (at >= 0) return _newtons[at];
        int next = ~at;
        if (next == 0) return _newtons[0];
        if (next == _seconds.Length) return _newtons[^1];
        double share = (time - _seconds[next - 1]) / (_seconds[next] - _seconds[next - 1]);
        return _newtons[next - 1] + (share * (_newtons[next] - _newtons[next - 1]));
    }
}
