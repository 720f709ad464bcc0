using System.Runtime.InteropServices;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.Table;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.ReReading;

/// <summary>Every run of a study taken from the archive and computed anew, on all cores.</summary>
internal static class ReReadingPart
{
    private const int Samples = 10_000;
    private const int RunsWhole = 10_000;
    private const int RunsShort = 400;
    private const int WarmUpRuns = 80;

    public static IEnumerable<Measured> Measure(Bench bench)
    {
        int runs = bench.Whole ? RunsWhole : RunsShort;
        string folder = bench.Folder("reread"), database = Path.Combine(bench.Scratch, "reread.sqlite");
        string bytes = Path.Combine(bench.Scratch, "reread.bytes");
        CalibrationRecord calibration = WorkshopCalibration.Make(PulledStudy.Start.AddDays(-3));
        Cost stored, read, computed;
        using (var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance))
        {
            archive.Calibrations.Save(calibration);
            stored = Cost.Once(() => Fill(archive, calibration, runs));
            // So that code which is compiled while it runs does not count: the full size would hide it.
            Each(archive, Math.Min(runs, WarmUpRuns), pull => RunCalculation.Calculate(pull, null, calibration, pull.EndedAt));
            read = Cost.Once(() => Each(archive, runs, _ => { }));
            computed = Cost.Once(() => Each(archive, runs,
                pull => RunCalculation.Calculate(pull, null, calibration, pull.EndedAt)));
        }

        Blobs.Write(database, bytes, runs, Samples);
        Cost sqlite = Cost.Once(() => Blobs.ReadSqlite(database));
        Cost plain = Cost.Once(() => Blobs.ReadPlain(bytes, Samples));
        double scale = (double)RunsWhole / runs;
        string all = bench.Whole ? "10,000 runs of 10,000 samples" : $"10,000 runs of 10,000 samples, reckoned from {runs}";
        Rival[] rivals = [new Rival("SQLite holding 5 bytes a sample as blobs", sqlite.Seconds * scale),
            new Rival("reading those bytes from a file", plain.Seconds * scale)];
        yield return new Measured("reread.compute", $"{all}: read and computed anew", computed.Seconds * scale, "s")
        { Aim = 10, Rivals = rivals, Limit = "unpacking a trace, and one reader at a time" };
        yield return new Measured("reread.read", "the same, read only", read.Seconds * scale, "s")
        { Rivals = rivals, Limit = "unpacking a trace, and one reader at a time" };
        yield return new Measured("reread.store", "one of them stored, safe from a power cut", stored.Seconds / runs * 1e3, "ms")
        { Limit = "packing, then two flushes of the disk" };
    }

    private static void Fill(RigArchive archive, CalibrationRecord calibration, int runs)
    {
        // A few traces told apart by their run: drawing noise would take longer than storing.
        RawSample[][] traces = [.. Enumerable.Range(0, 8).Select(seed => InventedPulls.Samples(Samples, seed))];
        for (int i = 0; i < runs; i++)
        {
            PullRecord pull = InventedPulls.Pull(i, traces[i % traces.Length]);
            archive.Runs.Store(RunCalculation.Calculate(pull, null, calibration, pull.EndedAt), pull, []);
        }
    }

    private static void Each(RigArchive archive, int runs, Action<PullRecord> take) => Parallel.For(0, runs,
        i => take(archive.Runs.FindPull(InventedPulls.Pull(i, []).Head.RunId)!));

    /// <summary>What a person would keep instead: the wire's five bytes a sample.</summary>
    private static class Blobs
    {
        private const int SampleBytes = 5;

        public static void Write(string database, string file, int runs, int samples)
        {
            byte[] blob = new byte[samples * SampleBytes];
            new Random(1).NextBytes(blob);
            using FileStream plain = File.Create(file);
            using var connection = Open(database);
            using SqliteTransaction transaction = connection.BeginTransaction();
            using SqliteCommand make = connection.CreateCommand();
            make.CommandText = "create table runs(id integer primary key, trace blob)";
            make.ExecuteNonQuery();
            using SqliteCommand insert = connection.CreateCommand();
            insert.CommandText = "insert into runs values(@id, @trace)";
            for (int i = 0; i < runs; i++)
            {
                plain.Write(blob);
                insert.Parameters.Clear();
                insert.Parameters.AddWithValue("@id", i);
                insert.Parameters.AddWithValue("@trace", blob);
                insert.ExecuteNonQuery();
            }

            transaction.Commit();
        }

        public static void ReadSqlite(string database)
        {
            long sum = 0;
            using var connection = Open(database);
            using SqliteCommand select = connection.CreateCommand();
            select.CommandText = "select trace from runs";
            using SqliteDataReader rows = select.ExecuteReader();
            while (rows.Read()) sum += Decode((byte[])rows[0]);
            if (sum == 0) throw new InvalidOperationException("Nothing was read.");
        }

        public static void ReadPlain(string file, int samples)
        {
            long sum = 0;
            using FileStream plain = File.OpenRead(file);
            byte[] blob = new byte[samples * SampleBytes];
            while (plain.ReadAtLeast(blob, blob.Length, throwOnEndOfStream: false) == blob.Length) sum += Decode(blob);
            if (sum == 0) throw new InvalidOperationException("Nothing was read.");
        }

        private static SqliteConnection Open(string database)
        {
            var connection = new SqliteConnection($"Data Source={database};Pooling=False");
            connection.Open();
            return connection;
        }

        private static long Decode(byte[] blob)
        {
            var samples = new RawSample[blob.Length / SampleBytes];
            int steps = 0;
            for (int i = 0; i < samples.Length; i++)
            {
                ReadOnlySpan<byte> five = blob.AsSpan(i * SampleBytes, SampleBytes);
                steps += MemoryMarshal.Read<short>(five[3..]);
                samples[i] = new RawSample(i, i * 3_000L, five[0] | (five[1] << 8) | ((sbyte)five[2] << 16), steps);
            }

            return samples[^1].Counts + 1L;
        }
    }
}
