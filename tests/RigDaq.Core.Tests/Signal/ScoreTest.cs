using RigDaq.Core.Signal;
using RigDaq.Core.Strength;
using RigDaq.Corpus;

namespace RigDaq.Core.Tests.Signal;

/// <summary>Endings and peaks over thousands of made traces of all kinds and rates; each miss is told with its seed.</summary>
public sealed class ScoreTest
{
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1";

    [Fact]
    public void Endings_and_peaks_are_right_over_5000_made_traces() =>
        Score("made", IsLong ? 50_000 : 5_000, seed => TraceMaker.Make(seed, SamplesMax(seed)));

    [Fact]
    public void Endings_and_peaks_are_right_over_a_held_out_set() =>
        Score("held out", IsLong ? 20_000 : 1_500, seed => HeldOutMaker.Make(seed, SamplesMax(seed)));

    // Most are short so that thousands take seconds; one in forty is long enough for thousands of samples/s.
    private static int SamplesMax(ulong seed) => IsLong || (seed / 20 % 40) == 0 ? 12_000 : 1_600;

    private static void Score(string name, int count, Func<ulong, SyntheticTrace> make)
    {
        var scores = new (SyntheticTrace Made, TraceReading Reading, DetectorState Live)[count];
        Parallel.For(0, count, i =>
        {
            SyntheticTrace made = make((ulong)i);
            scores[i] = (made with { Trace = made.Trace with { TimesSeconds = [], ForcesNewtons = [] } },
                TraceAnalysis.Read(made.Trace, new DetectionSettings()), Live(made));
        });

        ITestOutputHelper output = TestContext.Current.TestOutputHelper!;
        int wrong = 0, falseBreaks = 0, missedBreaks = 0, liveWrong = 0, spikesWrong = 0;
        foreach ((SyntheticTrace made, TraceReading reading, DetectorState live) in scores)
        {
            if (reading.Ending != made.Ending)
            {
                wrong++;
                output.WriteLine($"{made}: read as {reading.Ending.Word()}");
                if (Separated(reading.Ending)) falseBreaks++;
                else if (Separated(made.Ending)) missedBreaks++;
            }

            if (!Agrees(live, made.Ending))
            {
                liveWrong++;
                output.WriteLine($"{made}: the detector said {live} while it ran");
            }

            if (reading.SpikesRemoved == made.Spikes || made.Ending == PullEnding.NoContact) continue;
            spikesWrong++;
            output.WriteLine($"{made}: {made.Spikes} spikes, {reading.SpikesRemoved} removed");
        }

        // The last despiked sample before the fall: one interval of whatever slope, noise, and a per cent for where a tear begins.
        (SyntheticTrace Made, double Off)[] breaks = [.. scores
            .Where(score => score.Made.TrueBreakForce is not null && score.Reading.BreakForceNewtons is not null)
            .Select(score => (score.Made, Math.Abs(score.Reading.BreakForceNewtons!.Value - score.Made.TrueBreakForce!.Value)
                - (2 * score.Made.SlopeIntoFall * score.Made.Interval) - (6 * score.Made.Noise) - (0.01 * score.Made.TrueBreakForce!.Value)))];
        int breaksOff = breaks.Count(one => one.Off > 0);
        foreach ((SyntheticTrace made, double off) in breaks.OrderByDescending(one => one.Off / one.Made.TrueBreakForce).Take(5))
            output.WriteLine($"force at break beyond its limit by {off:G3} N ({made})");
        output.WriteLine($"{name}: {breaksOff} of {breaks.Length} forces at break off");
        Assert.InRange(breaksOff, 0, breaks.Length / 50);
        Peaks fine = Peaks.Of(scores.Where(score => score.Made.Rate * score.Made.Interval <= 3 * score.Made.Noise));
        Peaks coarse = Peaks.Of(scores.Where(score => score.Made.Rate * score.Made.Interval > 3 * score.Made.Noise));
        output.WriteLine($"{name}: {count} traces, endings wrong {wrong}, live {liveWrong}, false breaks {falseBreaks}, missed {missedBreaks}, "
            + $"spikes miscounted in {spikesWrong}");
        output.WriteLine($"  rate × interval up to 3 σ: {fine}");
        output.WriteLine($"  beyond, in units of bound/√12 and σ: {coarse}");
        Assert.Equal(0, falseBreaks);
        Assert.Equal(0, missedBreaks);
        Assert.InRange(wrong, 0, count / 200);
        Assert.InRange(liveWrong, 0, count / 200);
        Assert.InRange(spikesWrong, 0, count / 100);

        // The aims.
        Assert.InRange(fine.Bias, -0.3, 0.3);
        Assert.InRange(fine.Rms, 0, 1);
        Assert.InRange(coarse.WithinBound, 0.97, 1);
    }

    private static bool Separated(PullEnding ending) => ending is PullEnding.Broken or PullEnding.PartlyBroken;

    private static bool Agrees(DetectorState live, PullEnding ending) => live switch
    {
        DetectorState.Broken => ending == PullEnding.Broken,
        DetectorState.PartlyBroken => ending == PullEnding.PartlyBroken,
        DetectorState.SlippedOut => ending == PullEnding.SlippedOut,
        DetectorState.NoContact => ending == PullEnding.NoContact,

        // A specimen that slid out slowly may still hold something when the trace ends.
        _ => ending is PullEnding.Unbroken,
    };

    /// <summary>The same trace, sample by sample as a rig would see it, with the true noise and the zero of its first second.</summary>
    private static DetectorState Live(SyntheticTrace made)
    {
        double[] times = made.Trace.TimesSeconds;
        ZeroStretch zero = ZeroFinder.Find(times, made.Trace.ForcesNewtons, 0)!.Value;
        var despiker = new Despiker(made.Noise);
        var detector = new BreakDetector(new DetectionSettings(), made.Noise);
        for (int i = 0; i < times.Length; i++)
        {
            despiker.Add(times[i], made.Trace.ForcesNewtons[i] - zero.Mean);
            while (despiker.TryTake(out DespikedSample sample))
            {
                if (!sample.IsSpike) detector.Add(sample.TimeSeconds, sample.Value);
            }
        }

        despiker.Flush();
        while (despiker.TryTake(out DespikedSample sample)) detector.Add(sample.TimeSeconds, sample.Value);
        return detector.State;
    }

    /// <summary>How far estimates of the peak were off: in σ, the unknown phase of the last interval taken in.</summary>
    private sealed record Peaks(int Count, double Bias, double Rms, double Worst, string WorstSeed, double WithinBound)
    {
        public static Peaks Of(IEnumerable<(SyntheticTrace Made, TraceReading Reading, DetectorState Live)> scores)
        {
            var errors = new List<(double Error, bool Within, SyntheticTrace Made)>();
            foreach ((SyntheticTrace made, TraceReading reading, _) in scores)
            {
                if (made.TruePeak is not { } truth || reading.PeakForceNewtons is not { } read) continue;
                double bound = made.Rate * made.Interval;
                double unit = Math.Sqrt((made.Noise * made.Noise) + (bound * bound / 12));
                errors.Add(((read - truth) / unit, Math.Abs(read - truth) <= bound + (4 * made.Noise), made));
            }

            (double error, _, SyntheticTrace worst) = errors.MaxBy(error => Math.Abs(error.Error));
            return new Peaks(
                errors.Count, errors.Average(e => e.Error), Math.Sqrt(errors.Average(e => e.Error * e.Error)), error, worst.ToString(),
                errors.Count(e => e.Within) / (double)errors.Count);
        }

        public override string ToString() => $"{Count} peaks, bias {Bias:F3}, rms {Rms:F3}, within the bound {100 * WithinBound:F2} %, worst {Worst:F1} ({WorstSeed})";
    }
}
