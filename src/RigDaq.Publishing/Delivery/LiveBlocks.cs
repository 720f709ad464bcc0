using RigDaq.Core.Quantities;
using RigDaq.Publishing.Messages;

namespace RigDaq.Publishing.Delivery;

/// <summary>Cuts live force into blocks of evenly spaced samples. A lost sample ends a block, so that a gap is seen as one. Used by one
/// thread.</summary>
internal sealed class LiveBlocks(double blockSeconds, Action<LiveMessage> finished)
{
    /// <summary>The most samples in one message, whatever the rate.</summary>
    internal const int SamplesMax = 512;

    /// <summary>How far a spacing may be from the block's first one, as a share of it.</summary>
    private const double SpacingTolerance = 0.5;

    /// <summary>A hundredth of a millinewton is far below what any cell here resolves.</summary>
    private const int ForceDecimals = 5;

    /// <summary>A tenth of a microsecond, finer than the device's stamps.</summary>
    private const int TimeDecimals = 7;

    private readonly List<double> _forces = new(SamplesMax);
    private double _start, _last, _spacing;
    private double? _crosshead;
    private long _block;

    /// <summary>Takes one sample; one that is not finite counts as lost.</summary>
    internal void Add(double timeSeconds, double forceNewtons, double? crossheadMillimetres)
    {
        if (!double.IsFinite(forceNewtons) || !double.IsFinite(timeSeconds))
        {
            Flush();
            return;
        }

        if (_forces.Count > 0)
        {
            double spacing = timeSeconds - _last;
            bool even = _forces.Count == 1 ? spacing > 0 && spacing < blockSeconds
                : Math.Abs(spacing - _spacing) <= SpacingTolerance * _spacing;
            if (!even || timeSeconds - _start >= blockSeconds || _forces.Count == SamplesMax) Flush();
            else if (_forces.Count == 1) _spacing = spacing;
        }

        if (_forces.Count == 0) _start = timeSeconds;
        _last = timeSeconds;
        _crosshead = Figure.FiniteOrNull(crossheadMillimetres);
        _forces.Add(Math.Round(forceNewtons, ForceDecimals));
    }

    /// <summary>Ends the block that is being filled.</summary>
    internal void Flush()
    {
        if (_forces.Count == 0) return;
        double? interval = _forces.Count > 1 ? Math.Round((_last - _start) / (_forces.Count - 1), TimeDecimals) : null;
        finished(new LiveMessage
        {
            Block = _block++,
            StartSeconds = Math.Round(_start, TimeDecimals),
            IntervalSeconds = interval,
            ForceNewtons = [.. _forces],
            CrossheadMillimetres = _crosshead is { } position ? Math.Round(position, 4) : null,
        });
        _forces.Clear();
    }
}
