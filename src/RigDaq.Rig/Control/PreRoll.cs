using System.Runtime.InteropServices;

namespace RigDaq.Rig.Control;

/// <summary>What came before a pull's slack is taken up, bounded: of more than that the older half goes.</summary>
internal sealed class PreRoll<T>
{
    private readonly List<T> _kept = [];

    /// <summary>The oldest first; of use until something is added.</summary>
    public ReadOnlySpan<T> Kept => CollectionsMarshal.AsSpan(_kept);

    /// <summary>Keeps some more.</summary>
    public void Add(ReadOnlySpan<T> values)
    {
        if (_kept.Count + values.Length > PreRoll.SamplesMax) _kept.RemoveRange(0, Math.Min(_kept.Count, PreRoll.SamplesMax / 2));
        _kept.AddRange(values);
    }

    /// <summary>Nothing is kept any more.</summary>
    public void Clear() => _kept.Clear();
}

/// <summary>The bound of every <see cref="PreRoll{T}"/>.</summary>
internal static class PreRoll
{
    /// <summary>The most samples, or values of a channel, that are kept from before the slack is taken up.</summary>
    public const int SamplesMax = 100_000;
}
