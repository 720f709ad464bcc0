using System.Collections.Concurrent;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;

namespace RigDaq.Rig.Tests.Support;

/// <summary>Captures in memory, with a disk that can be made to fail.</summary>
internal sealed class MemoryJournal : ICaptureJournal
{
    public ConcurrentDictionary<string, MemoryWriter> Captures { get; } = new();

    public bool RefuseToBegin { get; set; }

    /// <summary>Appends fail after so many samples; null for never.</summary>
    public int? FailAfterSamples { get; set; }

    /// <summary>Appends wait for this; null for a disk that keeps up.</summary>
    public ManualResetEventSlim? Gate { get; set; }

    public ICaptureWriter Begin(PullHead head)
    {
        if (RefuseToBegin) throw new IOException("The disk is full: make room.");
        var writer = new MemoryWriter(head, FailAfterSamples, Gate);
        Assert.True(Captures.TryAdd(head.RunId, writer), "a run id was used twice");
        return writer;
    }

    public IReadOnlyList<PullRecord> FindUnfinished() => [];
}

internal sealed class MemoryWriter(PullHead head, int? failAfter, ManualResetEventSlim? gate) : ICaptureWriter
{
    public PullHead Head => head;

    public List<RawSample> Samples { get; } = [];

    public PullEnding? Ending { get; private set; }

    public void Append(ReadOnlySpan<RawSample> samples)
    {
        Assert.Null(Ending);
        gate?.Wait(TimeSpan.FromSeconds(20));
        if (failAfter is { } most && Samples.Count > most) throw new IOException("The disk failed.");
        lock (Samples) Samples.AddRange(samples);
    }

    public Dictionary<int, List<ChannelSample>> Channels { get; } = [];

    public void AppendChannel(int channel, ReadOnlySpan<ChannelSample> values)
    {
        Assert.Null(Ending);
        lock (Samples)
        {
            if (!Channels.TryGetValue(channel, out List<ChannelSample>? kept)) Channels[channel] = kept = [];
            kept.AddRange(values);
        }
    }

    public void Complete(PullRecord pull)
    {
        Assert.Null(Ending);
        Ending = pull.Ending;
    }

    public void Dispose()
    {
    }
}

/// <summary>Keeps records in memory and can be made to fail.</summary>
internal sealed class MemoryRecorder : IPullRecorder
{
    private int _failures;

    public ConcurrentQueue<PullRecord> Records { get; } = new();

    /// <summary>Storing hangs for ever.</summary>
    public bool NeverEnds { get; set; }

    /// <summary>The next so many recordings fail.</summary>
    public void FailNext(int times) => Volatile.Write(ref _failures, times);

    public Task<Run> RecordAsync(PullRecord pull, CancellationToken cancellation)
    {
        if (NeverEnds) return new TaskCompletionSource<Run>().Task;
        if (Interlocked.Decrement(ref _failures) >= 0) throw new IOException("The database is away.");
        Records.Enqueue(pull);
        return
            Task.FromResult(new Run
            {
                Head = pull.Head,
                Ending = pull.Ending,
                Reason = pull.Reason,
                EndedAt = pull.EndedAt,
                RevisedAt = pull.EndedAt
            });
    }
}
