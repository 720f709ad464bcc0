using RigDaq.Core.Signal;

namespace RigDaq.Core.Pulls;

/// <summary>A channel of a pull over time.</summary>
/// <param name="Head">What it is.</param>
/// <param name="TimesSeconds">From the first sample of the pull's trace, less the channel's own delay.</param>
/// <param name="Values">In its unit; NaN where there is none.</param>
public sealed record ChannelCurve(ChannelHead Head, double[] TimesSeconds, double[] Values)
{
    /// <summary>The channels of a pull that hold any value, in their order.</summary>
    public static IReadOnlyList<ChannelCurve> Of(PullRecord pull)
    {
        ArgumentNullException.ThrowIfNull(pull);
        IReadOnlyList<RawSample> samples = pull.Trace.Samples;
        if (samples.Count == 0 || pull.Head.Channels is not { } heads) return [];
        return [.. heads.Where(head => head.IsUsable)
            .Select(head => (Head: head, Trace: pull.Trace.Channels.FirstOrDefault(trace => trace.Index == head.Index)))
            .Where(channel => channel.Trace is { Samples.Count: > 0 })
            .Select(channel => Curve(channel.Head, channel.Trace!.Samples, samples, pull.Trace.IntervalSeconds))
            .Where(curve => curve.Values.Any(double.IsFinite))];
    }

    /// <summary>The value at a moment, by a straight line between its neighbours; NaN outside or where one of them is none.</summary>
    public double At(double seconds)
    {
        int after = Array.BinarySearch(TimesSeconds, seconds);
        if (after >= 0) return Values[after];
        after = ~after;
        if (after == 0 || after == TimesSeconds.Length) return double.NaN;
        double share = (seconds - TimesSeconds[after - 1]) / (TimesSeconds[after] - TimesSeconds[after - 1]);
        return Values[after - 1] + (share * (Values[after] - Values[after - 1]));
    }

    private static ChannelCurve Curve(ChannelHead head, IReadOnlyList<ChannelSample> values, IReadOnlyList<RawSample> samples,
        double interval)
    {
        var times = new double[values.Count];
        var made = new double[values.Count];
        int at = 0;
        for (int i = 0; i < times.Length; i++)
        {
            long number = values[i].Number;
            while (at + 1 < samples.Count && samples[at + 1].Number <= number) at++;
            // Where its own conversion was lost, or came before or after the trace: by the rate from the nearest one before.
            double stamp = samples[at].DeviceMicroseconds + ((number - samples[at].Number) * interval * 1e6);
            times[i] = ((stamp - samples[0].DeviceMicroseconds) / 1e6) - head.DelaySeconds;
            made[i] = head.Value(values[i].Raw) ?? double.NaN;
        }

        return new ChannelCurve(head, times, made);
    }
}
