using RigDaq.Core.Pulls;
using RigDaq.Core.Tests.Signal;
using RigDaq.Core.Trace;
using RigDaq.Core.Uncertainty;
using RigDaq.Corpus;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Strength;

/// <summary>
/// The licensed recordings (tests/corpus/curves, CC BY 4.0) mangled at random, one to three ways at once: cut anywhere, thinned,
/// rounded, resampled unevenly, turned over, lifted, in other units, noisy. Nobody can say what such a piece ends like, but some
/// things are never right: an exception, a fall of a third that goes unsaid, a peak above anything that was recorded and what the
/// slope adds in an interval, and an uncertainty as large as the reading without a word. RIGDAQ_LONG=1 mangles ten times as many,
/// RIGDAQ_FIRST_SEED takes other seeds.
/// </summary>
public sealed class CurveSweepTest
{
    private static readonly int EachTimes = Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1" ? 300 : 30;

    private static readonly int First =
        int.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_FIRST_SEED"), out int first) ? first : 0;

    // A third lost is a fall to two thirds; what the zero and a sample's noise leave of it is not asked for.
    private const double LeftShare = 2.0 / 3;

    [Fact]
    public void What_is_never_right_is_never_said_however_a_recording_is_mangled()
    {
        var wrong = new List<string>();
        int made = 0;
        foreach (string file in Directory.EnumerateFiles(Path.Combine(AppContext.BaseDirectory, "corpus", "curves"), "*_*.csv")
            .Order(StringComparer.Ordinal))
        {
            ForceTrace whole = CorpusFiles.Read(file);
            for (int seed = First; seed < First + EachTimes; seed++)
            {
                (string ways, ForceTrace trace) = Mangle(whole, new Random(HashCode(Path.GetFileName(file), seed)));
                made++;
                foreach (string fault in Faults(trace, TraceAnalysis.Read(trace, new DetectionSettings())))
                    wrong.Add($"{Path.GetFileName(file)}, seed {seed}, {ways}: {fault}");
            }
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{made} mangled, {wrong.Count} wrong");
        Assert.Empty(wrong);
    }

    /// <summary>What must not be said of any trace.</summary>
    private static IEnumerable<string> Faults(ForceTrace trace, TraceReading reading)
    {
        double zero = reading.ZeroNewtons ?? 0;
        double drift = Math.Abs(reading.ZeroDriftNewtons ?? 0);
        double greatest = trace.ForcesNewtons.Max() - zero;
        if (reading.Ending == PullEnding.Unbroken && reading.RawPeakForceNewtons is { } raw
            && trace.ForcesNewtons[^1] - zero < (LeftShare * raw) - (4 * (reading.NoiseNewtons ?? 0)) - drift
            && !reading.Warnings.Any(SaysLow))
            yield return $"unbroken without a word, {trace.ForcesNewtons[^1] - zero:G4} of {raw:G4} N left";
        if (reading.PeakForceNewtons is not { } peak) yield break;
        double slope = (reading.LoadingRateNewtonsPerSecond ?? 0) * LongestGap(trace.TimesSeconds);
        int top = Array.IndexOf(trace.ForcesNewtons, trace.ForcesNewtons.Max());
        double step = top > 0 ? trace.ForcesNewtons[top] - trace.ForcesNewtons[top - 1] : 0;
        if (peak > greatest + Math.Max(slope, step) + drift + (1e-9 * Math.Abs(peak)))
            yield return $"peak {peak:G5} N above the greatest sample, {greatest:G5} N";
        double wide = Math.Max(2 * reading.PeakForceStandardUncertaintyNewtons!.Value,
            PeakForceUncertainty.ExpandedNewtons(reading)!.Value);
        if (wide > peak && !reading.Warnings.Any(warning => warning.Code == "peakUncertain"))
            yield return $"{peak:G4} ± {wide:G4} N without a word";
    }

    private static bool SaysLow(Sentence warning) =>
        new[] { "unloaded, not broken", "relaxed at a held position", "The recording stops", "was lost suddenly" }
        .Any(word => warning.AsKept().Contains(word, StringComparison.Ordinal));

    private static double LongestGap(double[] times)
    {
        double longest = 0;
        for (int i = 1; i < times.Length; i++) longest = Math.Max(longest, times[i] - times[i - 1]);
        return longest;
    }

    private static (string Ways, ForceTrace Trace) Mangle(ForceTrace trace, Random random)
    {
        var ways = new List<string>();
        for (int i = random.Next(1, 4); i > 0; i--)
        {
            (string way, trace) = Once(trace, random);
            ways.Add(way);
        }

        return (string.Join(", ", ways), trace);
    }

    private static (string Way, ForceTrace Trace) Once(ForceTrace trace, Random random)
    {
        int n = trace.TimesSeconds.Length;
        double greatest = trace.ForcesNewtons.Max(Math.Abs);
        switch (random.Next(11))
        {
            case 0:
                int end = random.Next(1, n + 1);
                return ($"cut to {end}", Picked(trace, Enumerable.Range(0, end)));
            case 1:
                int begin = random.Next(0, n);
                return ($"from {begin}", Picked(trace, Enumerable.Range(begin, n - begin)));
            case 2:
                int each = random.Next(2, 41), phase = random.Next(each);
                return ($"each {each}th", Picked(trace, Enumerable.Range(0, n).Where(i => i % each == phase % Math.Min(each, n))));
            case 3:
                int digits = random.Next(1, 5);
                return ($"{digits} digits", Changed(trace, force => Rounded(force, digits)));
            case 4:
                double step = greatest * Math.Pow(10, -4 + (3 * random.NextDouble()));
                return ($"steps of {step:G3}", Changed(trace, force => step > 0 ? step * Math.Round(force / step) : force));
            case 5:
                return ("turned over", Changed(trace, force => -force));
            case 6:
                double lift = greatest * ((4 * random.NextDouble()) - 2);
                return ($"lifted by {lift:G3}", Changed(trace, force => force + lift));
            case 7:
                double factor = Math.Pow(10, (12 * random.NextDouble()) - 6);
                return ($"times {factor:G3}", Changed(trace, force => force * factor));
            case 8:
                double sigma = greatest * Math.Pow(10, -4 + (3.3 * random.NextDouble()));
                var gauss = new Gauss(random.Next());
                return ($"noise of {sigma:G3}", Changed(trace, force => force + (sigma * gauss.Next())));
            case 9:
                double kept = 0.1 + (0.8 * random.NextDouble());
                return ($"{100 * kept:F0} % kept", Picked(trace, Enumerable.Range(0, n).Where(i => i == 0 || random.NextDouble() < kept)));
            default:
                return ("unevenly resampled", Resampled(trace, random));
        }
    }

    private static double Rounded(double force, int digits)
    {
        if (force == 0) return 0;
        double unit = Math.Pow(10, Math.Floor(Math.Log10(Math.Abs(force))) - digits + 1);
        return unit * Math.Round(force / unit);
    }

    private static ForceTrace Picked(ForceTrace trace, IEnumerable<int> kept)
    {
        int[] all = [.. kept];
        return trace with
        {
            TimesSeconds = [.. all.Select(i => trace.TimesSeconds[i])],
            ForcesNewtons = [.. all.Select(i => trace.ForcesNewtons[i])],
            PositionsMillimetres = trace.PositionsMillimetres is { } positions ? [.. all.Select(i => positions[i])] : null,
        };
    }

    private static ForceTrace Changed(ForceTrace trace, Func<double, double> change) =>
        trace with { ForcesNewtons = [.. trace.ForcesNewtons.Select(change)] };

    /// <summary>By straight lines, at steps of a tenth to five times the usual one.</summary>
    private static ForceTrace Resampled(ForceTrace trace, Random random)
    {
        double[] times = trace.TimesSeconds;
        if (times.Length < 3) return trace;
        double interval = (times[^1] - times[0]) / (times.Length - 1);
        var fresh = new List<double>();
        for (double time = times[0]; time <= times[^1] && interval > 0; time += interval * (0.1 + (4.9 * random.NextDouble())))
            fresh.Add(time);
        double[] At(double[] values) => [.. fresh.Select(time =>
        {
            int at = Array.BinarySearch(times, time);
            if (at >= 0) return values[at];
            int after = Math.Clamp(~at, 1, times.Length - 1);
            double gap = times[after] - times[after - 1];
            double way = gap > 0 ? (time - times[after - 1]) / gap : 0;
            return values[after - 1] + (way * (values[after] - values[after - 1]));
        })];
        return fresh.Count == 0 ? trace : trace with
        {
            TimesSeconds = [.. fresh],
            ForcesNewtons = At(trace.ForcesNewtons),
            PositionsMillimetres = trace.PositionsMillimetres is { } positions ? At(positions) : null,
        };
    }

    // The same on every machine and in every process.
    private static int HashCode(string name, int seed)
        => name.Aggregate((17 * 31) + seed, (hash, letter) => unchecked((hash * 31) + letter));
}
