using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Rig.Control;

/// <summary>A pull whose run is not stored yet: its head, its samples so far, and its capture.</summary>
internal sealed class PullInProgress(PullHead head, PullCapture capture)
{
    private readonly List<RawSample> _samples = new(4_096);

    /// <summary>The values of each channel that the head describes; null for those that there are not.</summary>
    private readonly List<ChannelSample>?[] _channels = [.. Enumerable.Range(0, ChannelHead.ChannelsMax)
        .Select(i => head.Channels?.Any(channel => channel.Index == i) == true ? new List<ChannelSample>() : null)];

    public PullHead Head => head;

    public PullCapture Capture => capture;

    public int Samples => _samples.Count;

    /// <summary>Its capture is on the disk.</summary>
    public bool IsOpen { get; set; }

    /// <summary>Whether what comes now is of this pull.</summary>
    public bool Takes => IsOpen && Record is null;

    public double? ZeroReturnCounts { get; set; }

    /// <summary>The device's start that its samples are of.</summary>
    public uint? Boot { get; set; }

    public DateTimeOffset? FirstSampleAt { get; set; }

    /// <summary>What is to be stored; null until the pull has its ending.</summary>
    public PullRecord? Record { get; private set; }

    /// <summary>Storing it failed, and it was not asked for again yet.</summary>
    public bool NotStored { get; set; }

    /// <summary>The device's stamp of its first sample; null before any.</summary>
    public long? FirstStamp => _samples is [var first, ..] ? first.DeviceMicroseconds : null;

    /// <summary>Keeps samples, in memory and on the disk. False where the disk is too slow.</summary>
    public bool TryKeep(ReadOnlySpan<RawSample> samples)
    {
        _samples.AddRange(samples);
        return capture.TryAppend(samples);
    }

    /// <summary>The same with values of a channel. One that was switched on after the head was written is not of this pull.</summary>
    public bool TryKeep(int channel, ReadOnlySpan<ChannelSample> values)
    {
        if (_channels[channel] is not { } kept) return true;
        kept.AddRange(values);
        return capture.TryAppend(channel, values);
    }

    /// <summary>The pull has its ending.</summary>
    public PullRecord End(EndPull ended, DateTimeOffset endedAt)
    {
        bool nothingLeft = ended.Ending is PullEnding.Broken or PullEnding.SlippedOut;
        return Record = new PullRecord
        {
            Head = head,
            Ending = ended.Ending,
            Reason = ended.Reason,
            EndedAt = endedAt,
            FirstSampleAt = FirstSampleAt,
            Trace = new RawTrace
            {
                Samples = _samples.ToArray(),
                Channels = [.. _channels.Select((values, i) => values is { Count: > 0 } ? new ChannelTrace(i, values.ToArray()) : null)
                    .OfType<ChannelTrace>()],
                IntervalSeconds = head.IntervalSeconds,
                StepsPerMillimetre = head.StepsPerMillimetre,
                ConverterDelaySeconds = head.ConverterDelaySeconds,
            },
            ZeroReturnCounts = nothingLeft ? ZeroReturnCounts : null,
        };
    }
}
