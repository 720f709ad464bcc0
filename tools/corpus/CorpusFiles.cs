using System.Globalization;
using System.Text;
using System.Text.Json.Serialization;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Trace;

namespace RigDaq.Corpus;

/// <summary>The small traces of tests/corpus: every kind, each at a low, a middle and a high rate, and the second maker's.</summary>
internal static class CorpusFiles
{
    private const int SamplesMax = 1400;
    private const int HeldOut = 12;

    // A few fast ones are longer: the kinds they are of, and the seeds' rounds that give short pulls.
    private const int FastSamplesMax = 3900;
    private static readonly int[] FastKinds = [0, 2, 6, 17];
    private static readonly double[] PartedRatesHertz = [14, 40, 80, 320];
    private static readonly double[] RatesHertz = [14, 80, 320, 1250, 4000];

    /// <summary>How many there are.</summary>
    public static int Count => (TraceMaker.Kinds.Count * 3) + HeldOut + FastKinds.Length + PartedRatesHertz.Length;

    /// <summary>Makes one.</summary>
    public static SyntheticTrace Make(int index)
    {
        int first = TraceMaker.Kinds.Count * 3;
        if (index >= first + HeldOut + FastKinds.Length)
        {
            int at = index - first - HeldOut - FastKinds.Length;
            return TraceMaker.MakeDrawnThenParted((ulong)at, SamplesMax, PartedRatesHertz[at]);
        }

        if (index >= first + HeldOut)
        {
            int kindOf = FastKinds[index - first - HeldOut];
            ulong[] seeds = [.. Enumerable.Range(0, 60).Select(n => (ulong)((n * TraceMaker.Kinds.Count) + kindOf))];
            return seeds.Select(seed => TraceMaker.Make(seed, FastSamplesMax, 4000)).MinBy(made => made.Interval)!;
        }

        if (index >= first) return HeldOutMaker.Make((ulong)(index - first + 100_000), SamplesMax);
        int round = index / TraceMaker.Kinds.Count;
        int kind = index % TraceMaker.Kinds.Count;
        ulong seed = (ulong)((1000 * TraceMaker.Kinds.Count) + (round * 7 * TraceMaker.Kinds.Count) + kind);
        return TraceMaker.Make(seed, SamplesMax, RatesHertz[(round + (kind % 3)) % RatesHertz.Length]);
    }

    /// <summary>Its file name: number, kind, rate.</summary>
    public static string NameOf(int index, SyntheticTrace made) =>
        string.Create(CultureInfo.InvariantCulture, $"{index + 1:D2}-{made.Kind.Replace(' ', '-')}-{1 / made.Interval:F0}-per-second.csv");

    /// <summary>Its text, as `rigdaq trace` reads it.</summary>
    public static string Text(SyntheticTrace made)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"# Made, not measured: {made.Kind}, seed {made.Seed}. Ending: {made.Ending.Word()}.\n");
        if (made.TruePeak is { } peak) text.Append(CultureInfo.InvariantCulture, $"# True peak {peak:F4} N, noise {made.Noise:G4} N.\n");
        text.Append("time_s,force_N\n");
        int digits = Math.Max(2, 2 - (int)Math.Floor(Math.Log10(made.Noise)));
        string format = "F" + digits.ToString(CultureInfo.InvariantCulture);
        for (int i = 0; i < made.Trace.TimesSeconds.Length; i++)
        {
            text.Append(made.Trace.TimesSeconds[i].ToString("F5", CultureInfo.InvariantCulture)).Append(',')
                .Append(made.Trace.ForcesNewtons[i].ToString(format, CultureInfo.InvariantCulture)).Append('\n');
        }

        return text.ToString();
    }

    /// <summary>Reads such a text back.</summary>
    public static ForceTrace Read(string path)
    {
        string[][] rows = [.. File.ReadLines(path).Where(line => line.Length > 0 && line[0] != '#').Skip(1)
            .Select(line => line.Split(','))];
        return new ForceTrace
        {
            TimesSeconds = [.. rows.Select(row => double.Parse(row[0], CultureInfo.InvariantCulture))],
            ForcesNewtons = [.. rows.Select(row => double.Parse(row[1], CultureInfo.InvariantCulture))],
        };
    }
}

/// <summary>What is expected of one trace: what it was made with, and what was read when it was last looked at.</summary>
internal sealed record ExpectedReading(
    string File, string MadeAs, double? TruePeak, double Noise, string Ending, double? Zero, double? Peak, double? RawPeak,
        double? PeakTime,
    double? BreakForce, double? BreakTime, double? UnderRead, int Drops, int Spikes, long Lost)
{
    /// <summary>The force at which a slow fall ended suddenly; null without one.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public double? Parted { get; init; }

    /// <summary>Of a reading.</summary>
    public static ExpectedReading Of(string file, SyntheticTrace made, TraceReading reading) =>
        Of(file, made.Ending.Word(), made.TruePeak, made.Noise, reading);

    /// <summary>Of a reading, with what is known of the trace.</summary>
    public static ExpectedReading Of(string file, string madeAs, double? truePeak, double noise, TraceReading reading) => new(
        file, madeAs, truePeak is { } t ? Math.Round(t, 4) : null, Math.Round(noise, 5), reading.Ending.Word(), Short(reading.ZeroNewtons),
        Short(reading.PeakForceNewtons), Short(reading.RawPeakForceNewtons), Short(reading.PeakTimeSeconds),
            Short(reading.BreakForceNewtons),
        Short(reading.BreakTimeSeconds), Short(reading.UnderReadNewtons), reading.LoadDrops.Count, reading.SpikesRemoved,
            reading.SamplesLost)
    {
        Parted = Short(reading.SuddenPartingForceNewtons),
    };

    private static double? Short(double? value) => value is { } number ? Math.Round(number, 4) : null;
}
