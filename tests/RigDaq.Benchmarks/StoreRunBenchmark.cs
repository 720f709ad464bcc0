using BenchmarkDotNet.Attributes;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Text;

namespace RigDaq.Benchmarks;

/// <summary>
/// What it costs to keep one run (20 s at 80 samples/s) so that it survives a power cut, as a ratio to writing and
/// flushing the same samples to a plain file. A run takes most of a minute of the rig's time: some milliseconds are free.
/// </summary>
[ShortRunJob]
public class StoreRunBenchmark : IDisposable
{
    private readonly RawSample[] _samples = new RawSample[1600];
    private string _folder = "";
    private RigArchive? _archive;
    private FileStream? _plain;

    [GlobalSetup]
    public void Open()
    {
        var random = new Random(1);
        for (int i = 0; i < _samples.Length; i++)
        {
            _samples[i] = new RawSample(i, i * 12_500L, 8_000 + (i * 900) + random.Next(-40, 41), i * 2);
        }

        _folder = Directory.CreateTempSubdirectory("rigdaq-benchmark-").FullName;
        _archive = new RigArchive(_folder, TimeProvider.System, NullLogger.Instance);
        _plain = File.Create(Path.Combine(_folder, "plain"));
    }

    [GlobalCleanup]
    public void Dispose()
    {
        _archive?.Dispose();
        _plain?.Dispose();
        if (_folder.Length > 0) Directory.Delete(_folder, recursive: true);
        _folder = "";
        GC.SuppressFinalize(this);
    }

    [Benchmark(Baseline = true)]
    public void WriteAndFlushAPlainFile()
    {
        _plain!.Write(System.Runtime.InteropServices.MemoryMarshal.AsBytes<RawSample>(_samples));
        _plain.Flush(flushToDisk: true);
    }

    [Benchmark]
    public void CaptureAndStoreARun()
    {
        DateTimeOffset now = DateTimeOffset.UtcNow;
        var head = new PullHead
        {
            RunId = Guid.CreateVersion7().ToString(),
            StudyId = "benchmark",
            SpecimenId = "1",
            SequenceId = "1",
            CalibrationId = "1",
            StartedAt = now,
            Settings = new PullSettings(),
            Device = new RigDevice("0000000000000001", "benchmark", 1, true),
            ZeroCounts = 8_000,
            NoiseCounts = 20,
            IntervalSeconds = 0.0125,
        };
        var pull = new PullRecord
        {
            Head = head,
            Ending = PullEnding.Broken,
            Reason = Sentence.None,
            EndedAt = now,
            Trace = new RawTrace { Samples = _samples, IntervalSeconds = 0.0125 },
        };
        using (ICaptureWriter writer = _archive!.Captures.Begin(head))
        {
            for (int at = 0; at < _samples.Length; at += 4) writer.Append(_samples.AsSpan(at, 4));
            writer.Complete(pull);
        }

        _archive.Runs.Store(new Run { Head = head, Ending = PullEnding.Broken, EndedAt = now, RevisedAt = now }, pull, []);
    }
}
