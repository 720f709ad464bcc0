using RigDaq.Benchmarks.ArchiveSize;
using RigDaq.Benchmarks.Growth;
using RigDaq.Benchmarks.Idle;
using RigDaq.Benchmarks.ManyRuns;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.MixedModels;
using RigDaq.Benchmarks.ReReading;
using RigDaq.Benchmarks.SamplePath;
using RigDaq.Benchmarks.StopLatency;
using RigDaq.Benchmarks.Table;
using RigDaq.Benchmarks.Traces;

namespace RigDaq.Benchmarks;

/// <summary>The parts of the table, each of which can be run alone.</summary>
internal static class Parts
{
    public static IReadOnlyList<(string Name, Func<Bench, IEnumerable<Measured>> Measure)> All { get; } =
    [
        ("samples", SamplePathPart.Measure),
        ("stop", StopLatencyPart.Measure),
        ("trace", TracesPart.Measure),
        ("reread", ReReadingPart.Measure),
        ("archive", ArchiveSizePart.Measure),
        ("study", ManyRunsPart.Measure),
        ("mixed", MixedModelPart.Measure),
        ("idle", IdlePart.Measure),
        ("growth", GrowthPart.Measure),
    ];
}
