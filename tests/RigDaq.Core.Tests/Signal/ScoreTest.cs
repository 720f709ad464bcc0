using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
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

    [Fact]
    public void What_drew_and_parted_is_said_so_though_it_reads_as_slipped_out()
    {
        double[] rates = [12, 20, 40, 80, 160, 320, 640];
        int said = 0, slipped = 0, near = 0;
        const int Count = 700;
        for (int i = 0; i < Count; i++)
        {
            SyntheticTrace made = TraceMaker.MakeDrawnThenParted((ulong)i, 6000, rates[i % rates.Length]);
            TraceReading reading = TraceAnalysis.Read(made.Trace, new DetectionSettings());
            if (reading.Ending == PullEnding.SlippedOut) slipped++;
            if (reading.SuddenPartingForceNewtons is not { } force) continue;
            said++;
            Assert.Contains(reading.Warnings, warning => warning.Code == "partedAfterDrawing");
            if (Math.Abs(force - made.TrueBreakForce!.Value) <= (6 * made.Noise) + (2 * made.SlopeIntoFall * made.Interval)
                + (0.02 * made.TrueBreakForce.Value)) near++;
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{Count} drawn and parted: {slipped} read as slipped out, {said} said to have parted, {near} at the true force");
        Assert.InRange(slipped, Count * 99 / 100, Count);
        Assert.InRange(said, Count * 99 / 100, Count);
        Assert.InRange(near, said * 98 / 100, said);
    }

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
        int wrong = 0, falseBreaks = 0, missedBreaks = 0, liveWrong = 0, spikesWrong = 0, parted = 0;
        foreach ((SyntheticTrace made, TraceReading reading, DetectorState live) in scores)
        {
            if (reading.Ending != made.Ending)
            {
                wrong++;
                output.WriteLine($"{made}: read as {reading.Ending.Word()}");
                if (Separated(reading.Ending)) falseBreaks++;
                else if (Separated(made.Ending)) missedBreaks++;
            }

            // None of these draws and parts: what slides to its end must not be said to have parted.
            if (reading.SuddenPartingForceNewtons is not null)
            {
                parted++;
                output.WriteLine($"{made}: said to have parted suddenly");
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
                - (2 * score.Made.SlopeIntoFall * score.Made.Interval) - (6 * score.Made.Noise)
                    - (0.01 * score.Made.TrueBreakForce!.Value)))];
        int breaksOff = breaks.Count(one => one.Off > 0);
        foreach ((SyntheticTrace made, double off) in breaks.OrderByDescending(one => one.Off / one.Made.TrueBreakForce).Take(5))
            output.WriteLine($"force at break beyond its limit by {off:G3} N ({made})");
        output.WriteLine($"{name}: {breaksOff} of {breaks.Length} forces at break off");
        Assert.InRange(breaksOff, 0, breaks.Length / 50);
        Peaks fine = Peaks.Of(scores.Where(score => score.Made.Rate * score.Made.Interval <= 3 * score.Made.Noise));
        Peaks coarse = Peaks.Of(scores.Where(score => score.Made.Rate * score.Made.Interval > 3 * score.Made.Noise));
        output.WriteLine($"{name}: {count} traces, endings wrong {wrong}, live {liveWrong}, false breaks {falseBreaks}, missed {missedBreaks}, "
            + $"spikes miscounted in {spikesWrong}");
        foreach (string line in Coverage.Of(scores)) output.WriteLine($"  {name}: {line}");
        output.WriteLine($"  rate × interval up to 3 σ: {fine}");
        output.WriteLine($"  beyond, in units of bound/√12 and σ: {coarse}");
        Assert.Equal(0, falseBreaks);
        Assert.Equal(0, missedBreaks);
        Assert.InRange(wrong, 0, count / 200);
        Assert.InRange(liveWrong, 0, count / 200);
        Assert.InRange(parted, 0, count / 1000);
        Assert.InRange(spikesWrong, 0, count / 100);

        // The stated interval (k = 2) is to hold the truth in about 95 of 100.
        Assert.InRange(Coverage.ShareWithin(scores), 0.945, 0.985);
        foreach (var corners in scores.Where(score => score.Made.Kind is "tear" or "slips out").GroupBy(score => score.Made.Kind))
            Assert.InRange(Coverage.ShareWithin([.. corners]), 0.95, 1);

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
        // Where too few samples lie before contact the first stands for the zero, as for a trace in counts.
        double zero = ZeroFinder.Find(times, made.Trace.ForcesNewtons, 0)?.Mean ?? made.Trace.ForcesNewtons[0];
        var despiker = new Despiker(made.Noise);
        var detector = new BreakDetector(new DetectionSettings(), made.Noise);
        for (int i = 0; i < times.Length; i++)
        {
            despiker.Add(times[i], made.Trace.ForcesNewtons[i] - zero);
            while (despiker.TryTake(out DespikedSample sample))
            {
                if (!sample.IsSpike) detector.Add(sample.TimeSeconds, sample.Value);
            }
        }

        despiker.Flush();
        while (despiker.TryTake(out DespikedSample sample)) detector.Add(sample.TimeSeconds, sample.Value);
        return detector.State;
    }

    /// <summary>How often the peak's stated interval (k = 2) holds the truth.</summary>
    private static class Coverage
    {
        public static IEnumerable<string> Of((SyntheticTrace Made, TraceReading Reading, DetectorState Live)[] scores)
        {
            var known = scores.Where(s => s.Made.TruePeak is not null && s.Reading.PeakForceNewtons is not null).ToArray();
            yield return Line("all", known);
            yield return Line("with hum", known.Where(s => s.Made.Hum > 0));
            yield return Line("without hum", known.Where(s => s.Made.Hum == 0));
            yield return Line("below 30 samples/s", known.Where(s => s.Made.Interval > 1 / 30.0));
            yield return Line("below 30 samples/s with hum", known.Where(s => s.Made.Interval > 1 / 30.0 && s.Made.Hum > 0));
            yield return Line("rises into the fall", known.Where(s => s.Made.RisesIntoFall));
            yield return Line("else", known.Where(s => !s.Made.RisesIntoFall));
            foreach (var kind in known.GroupBy(s => s.Made.Kind)) yield return Line(kind.Key, kind);
        }

        public static double ShareWithin((SyntheticTrace Made, TraceReading Reading, DetectorState Live)[] scores)
        {
            var known = scores.Where(s => s.Made.TruePeak is not null && s.Reading.PeakForceNewtons is not null).ToArray();
            return known.Count(s => Math.Abs(s.Reading.PeakForceNewtons!.Value - s.Made.TruePeak!.Value) <= 2
                * s.Reading.PeakForceStandardUncertaintyNewtons!.Value) / (double)known.Length;
        }

        private static string Line(string what, IEnumerable<(SyntheticTrace Made, TraceReading Reading, DetectorState Live)> scores)
        {
            double[] off =
                [.. scores.Select(s => Math.Abs(s.Reading.PeakForceNewtons!.Value - s.Made.TruePeak!.Value)
                / s.Reading.PeakForceStandardUncertaintyNewtons!.Value)];
            double[] size = [.. scores.Select(s => s.Reading.PeakForceStandardUncertaintyNewtons!.Value / s.Made.Noise)];
            return off.Length == 0 ? what
                : $"{what}: {off.Length}, {100.0 * off.Count(o => o <= 2) / off.Length:F1} % within 2 u, {100.0 * off.Count(o => o <= 3) / off.Length:F1} % within 3 u, median u {size.Order().ElementAt(size.Length / 2):F2} σ, worst {off.Max():F1} u";
        }
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

        public override string ToString()
            => $"{Count} peaks, bias {Bias:F3}, rms {Rms:F3}, within the bound {100 * WithinBound:F2} %, worst {Worst:F1} ({WorstSeed})";
    }
}
