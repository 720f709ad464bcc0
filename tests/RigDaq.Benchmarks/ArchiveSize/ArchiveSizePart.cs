using System.IO.Compression;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.Table;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.ArchiveSize;

/// <summary>What a data folder weighs beside the smallest that the same samples can be packed into.</summary>
internal static class ArchiveSizePart
{
    private const int Samples = 6_400;
    private const int Runs = 60;
    private const int ShortSamples = 320;
    private const int ShortRuns = 400;

    public static IEnumerable<Measured> Measure(Bench bench)
    {
        RawSample[][] traces = [.. Enumerable.Range(0, Runs).Select(seed => InventedPulls.Samples(Samples, seed))];
        (double bytes, double captures, Cost stored) = Keep(bench.Folder("size"), traces);
        byte[] columns = Columns.Of(traces);
        int all = traces.Sum(trace => trace.Length);
        byte[] packed = [];
        Cost brotli = Cost.Once(() => packed = Brotli11(columns));
        double parquet = ParquetFile.Bytes(traces);
        Rival[] rivals = [new Rival("Brotli 11 over differences in columns", (double)packed.Length / all),
            new Rival("Parquet with zstd", parquet / all)];
        double smallest = rivals.Min(rival => rival.Value);
        yield return new Measured("archive.bytes", $"kept of a run of {Samples:#,0} samples, database and capture", bytes / all,
            "bytes a sample")
        {
            Aim = 1.3 * smallest,
            Rivals = rivals,
            Limit = FormattableString.Invariant($"the captures: {Page.Number(captures / all)} of it"),
        };
        yield return new Measured("archive.speed", "packed and stored, in processor time", all / stored.ProcessorSeconds / 1e6,
            "M samples/s")
        {
            IsMoreBetter = true,
            Aim = 100 * all / brotli.ProcessorSeconds / 1e6,
            Rivals = [new Rival("Brotli 11 alone", all / brotli.ProcessorSeconds / 1e6)],
            Limit = "the packing, then two flushes of the disk a run",
        };
        (double small, double smallCaptures, _) =
            Keep(bench.Folder("size-short"), [.. Enumerable.Range(0, ShortRuns).Select(seed => InventedPulls.Samples(ShortSamples, seed))]);
        yield return new Measured("archive.run", $"kept of a run of {ShortSamples} samples, all of it", small / ShortRuns / 1e3, "kB")
        {
            Limit = FormattableString.Invariant(
                $"the run's own record, thrice: database, journal, capture ({Page.Number(smallCaptures / ShortRuns / 1e3)} kB)"),
        };
    }

    private static (double Bytes, double Captures, Cost Stored) Keep(string folder, RawSample[][] traces)
    {
        CalibrationRecord calibration = WorkshopCalibration.Make(PulledStudy.Start.AddDays(-3));
        PullRecord[] pulls = [.. traces.Select((trace, i) => InventedPulls.Pull(i, trace))];
        Run[] runs = [.. pulls.Select(pull => RunCalculation.Calculate(pull, null, calibration, pull.EndedAt))];
        Cost stored;
        double before;
        using (var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance)) archive.Calibrations.Save(calibration);
        before = Weight(folder, "*");
        using (var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance))
        {
            stored = Cost.Once(() =>
            {
                for (int i = 0; i < runs.Length; i++) archive.Runs.Store(runs[i], pulls[i], []);
            });
        }

        return (Weight(folder, "*") - before, Weight(folder, "*.capture*"), stored);
    }

    private static double Weight(string folder, string pattern) => new DirectoryInfo(folder)
        .EnumerateFiles(pattern, SearchOption.AllDirectories).Sum(file => (double)file.Length);

    private static byte[] Brotli11(byte[] bytes)
    {
        byte[] packed = new byte[BrotliEncoder.GetMaxCompressedLength(bytes.Length)];
        if (!BrotliEncoder.TryCompress(bytes, packed, out int written, quality: 11, window: 24))
            throw new InvalidOperationException("It did not fit.");
        return packed[..written];
    }
}
