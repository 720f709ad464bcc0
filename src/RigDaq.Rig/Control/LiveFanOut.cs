using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Signal;

namespace RigDaq.Rig.Control;

/// <summary>Gathers samples into live blocks and offers them to whoever looks; nobody is waited for.</summary>
internal sealed class LiveFanOut(TimeSpan interval, TimeProvider time)
{
    /// <summary>The most samples in a block, whatever the time.</summary>
    public const int SamplesMax = 2_048;

    private readonly List<RawSample> _gathered = new(SamplesMax);
    private readonly Lock _gate = new();
    private LiveSubscription[] _subscriptions = [];
    private long _number;
    private long _lost;
    private long _since;
    private long _droppedByLeavers;
    private bool _ended;

    /// <summary>Blocks that slow consumers lost, all together.</summary>
    public long BlocksDropped => Interlocked.Read(ref _droppedByLeavers) + Volatile.Read(ref _subscriptions).Sum(s => s.BlocksDropped);

    public LiveSubscription Subscribe(int blocksMax)
    {
        var subscription = new LiveSubscription(blocksMax, Leave);
        lock (_gate)
        {
            if (_ended) subscription.End();
            else Volatile.Write(ref _subscriptions, [.. _subscriptions, subscription]);
        }

        return subscription;
    }

    /// <summary>Takes samples as they came. On the control loop.</summary>
    public void Take(ReadOnlySpan<RawSample> samples, long lostBefore, in LiveContext context)
    {
        if (Volatile.Read(ref _subscriptions).Length == 0)
        {
            _gathered.Clear();
            return;
        }

        if (_gathered.Count == 0) _since = time.GetTimestamp();
        // A gap begins a new block, so that lost samples stand where they were lost.
        if (lostBefore > 0) Flush(context);
        _lost += lostBefore;
        _gathered.AddRange(samples);
        if (_gathered.Count >= SamplesMax || time.GetElapsedTime(_since) >= interval) Flush(context);
    }

    /// <summary>Lets go what was gathered.</summary>
    public void Flush(in LiveContext context)
    {
        if (_gathered.Count == 0) return;
        RawSample[] samples = [.. _gathered];
        _gathered.Clear();
        _since = time.GetTimestamp();
        var block = new LiveBlock
        {
            Number = ++_number,
            ArrivedAt = time.GetUtcNow(),
            Samples = samples,
            Newtons = Newtons(samples, context),
            PositionMillimetres = Positions(samples, context),
            LostBefore = _lost,
            BootNumber = context.BootNumber,
            RunId = context.RunId,
        };
        _lost = 0;
        foreach (LiveSubscription subscription in Volatile.Read(ref _subscriptions)) subscription.Offer(block);
    }

    public void End()
    {
        lock (_gate)
        {
            _ended = true;
            foreach (LiveSubscription subscription in _subscriptions) subscription.End();
            Volatile.Write(ref _subscriptions, []);
        }
    }

    private void Leave(LiveSubscription subscription)
    {
        lock (_gate)
        {
            if (!_subscriptions.Contains(subscription)) return;
            Volatile.Write(ref _subscriptions, [.. _subscriptions.Where(s => s != subscription)]);
            Interlocked.Add(ref _droppedByLeavers, subscription.BlocksDropped);
        }
    }

    private static double[]? Newtons(RawSample[] samples, in LiveContext context)
    {
        if (context.Curve is not { } curve || context.ZeroCounts is not { } zero) return null;
        var newtons = new double[samples.Length];
        for (int i = 0; i < samples.Length; i++) newtons[i] = curve.Newtons(samples[i].Counts - zero);
        return newtons;
    }

    private static double[]? Positions(RawSample[] samples, in LiveContext context)
    {
        if (context.StepsPerMillimetre is not { } steps) return null;
        var positions = new double[samples.Length];
        for (int i = 0; i < samples.Length; i++) positions[i] = samples[i].CrossheadSteps / steps;
        return positions;
    }
}

/// <summary>What a live block is interpreted with.</summary>
internal readonly record struct LiveContext(ForceCurve? Curve, double? ZeroCounts, double? StepsPerMillimetre, uint BootNumber,
    string? RunId);
