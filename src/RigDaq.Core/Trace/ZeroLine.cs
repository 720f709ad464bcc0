using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Trace;

/// <summary>
/// The zero before a pull and the zero after its break, joined by a line: what drifted between them is taken off forces by the time they
/// were taken at. Only a whole break has a zero after it, and only a shift that stands out of both zeros' own scatter is one. Where nothing
/// is seen after, a zero that clearly slopes before the pull may have gone on so, or not: that is counted into the uncertainty, and said.
/// </summary>
internal static class ZeroLine
{
    // How much of what follows the cell's rest after the fall is looked at, in seconds.
    private const double WindowSeconds = 2;

    // A shift is one beyond so many of its standard errors.
    private const double ErrorsMin = 3;

    // Nor does a slope before the pull count that noise would make once in ten thousand times.
    private const double SlopeErrorsMin = 4;

    // More than this is no drift: the specimen was under tension when the zero was taken, or something broke.
    private const double NoisesMax = BreakDetector.ContactNoises;

    // A drift that both still stretches show may go as far as this.
    private const double DriftNoisesMax = 40;

    // About its own line the stretch after scatters no more than noise does, by so much.
    private const double ScatterTimes = 1.5;
    private const double ShareMax = 0.01;
    private const double FarShare = 0.05;

    /// <summary>Reads a trace, and once more above the line where its zero drifted.</summary>
    /// <param name="trace">As given.</param>
    /// <param name="zero">The zero taken beforehand; null where it is found in the trace.</param>
    /// <param name="read">Reads a trace.</param>
    public static AnalysedTrace Straighten(ForceTrace trace, KnownZero? zero, Func<ForceTrace, KnownZero?, AnalysedTrace> read)
    {
        AnalysedTrace first = read(trace, zero);
        TraceReading reading = first.Reading;
        if (reading is not { PeakForceNewtons: { } peak, PeakTimeSeconds: { } at }) return first;
        if (reading is not { Ending: PullEnding.Broken, BreakTimeSeconds: { } broke }) return WithSlopeBefore(first, peak, at);
        double noise = first.Noise;
        double before = zero is { } takenBefore ? -takenBefore.AgeSeconds : first.ZeroSeconds;
        if (first.ZeroSamples < ZeroFinder.SamplesMin) return first;
        if (After(first, broke, zero) is not { } after || after.Seconds <= before) return WithSlopeBefore(first, peak, at);
        double error = noise * Math.Sqrt((1.0 / first.ZeroSamples) + (1.0 / after.Samples));
        double shift = after.Newtons;
        if (Math.Abs(shift) <= ErrorsMin * error || Math.Abs(shift) > Math.Max(DriftNoisesMax * noise, ShareMax * peak)) return first;
        double seconds = after.Seconds - before;
        var straight = trace with
        {
            ForcesNewtons = [.. trace.ForcesNewtons.Select((force, i) =>
                force - (shift * Math.Clamp((trace.TimesSeconds[i] - before) / seconds, 0, 1)))],
        };
        double way = Math.Clamp((at - before) / seconds, 0, 1);

        // What is far for a drift has to be seen the more clearly.
        if (!Drifts(first, broke, shift / seconds, noise, Math.Abs(shift) > FarShare * peak))
        {
            if (Math.Abs(shift) > Math.Max(NoisesMax * noise, ShareMax * peak)) return first;

            // A zero that went at the break, or was taken under tension, goes as far: which one, nothing shows.
            return first with
            {
                Reading = reading with
                {
                    PeakForceStandardUncertaintyNewtons = double.Hypot(reading.PeakForceStandardUncertaintyNewtons
                        ?? 0, shift * way / Math.Sqrt(3)),
                    ZeroStandardUncertaintyNewtons = double.Hypot(reading.ZeroStandardUncertaintyNewtons ?? 0, shift * way / Math.Sqrt(3)),
                },
            };
        }

        AnalysedTrace second = read(straight, zero);
        if (second.Reading is not { Ending: PullEnding.Broken, PeakForceStandardUncertaintyNewtons: { } own }) return first;

        // The line's own scatter at the peak, and a drift that went another way between its ends: a half of a straight one's
        // share, rectangular.
        double ofLine = double.Hypot(way * error, shift * way * (1 - way) / Math.Sqrt(3));
        return second with
        {
            Reading = second.Reading with
            {
                PeakForceStandardUncertaintyNewtons = double.Hypot(own, ofLine),
                ZeroStandardUncertaintyNewtons = double.Hypot(second.Reading.ZeroStandardUncertaintyNewtons ?? 0, ofLine),
                ZeroDriftNewtons = shift,
                Warnings = [.. second.Reading.Warnings, CoreText.ZeroDrifted(shift, seconds)],
            },
        };
    }

    /// <summary>
    /// A zero that slopes before the pull beyond what noise makes of it, and no zero after that could say how far it went: anything
    /// up to that slope all the way to the peak, rectangular (JCGM 100, 4.3.7), as far as a drift may go at all. What would go
    /// farther is no drift but a toe or a load that settles: nothing is counted then.
    /// </summary>
    private static AnalysedTrace WithSlopeBefore(AnalysedTrace first, double peak, double at)
    {
        double noise = first.Noise;
        int held = 0;
        while (held < first.Times.Length && first.Times[held] <= (2 * first.ZeroSeconds) - first.Times[0]) held++;
        if (first.ZeroSeconds <= 0 || held < ZeroFinder.SamplesMin || !(noise > 0)) return first;
        double seconds = first.Times[held - 1] - first.Times[0];
        double slope = StillWindow.Judge(first.Times.AsSpan(0, held), first.Forces.AsSpan(0, held), noise).SlopePerSecond;
        if (Math.Abs(slope) * seconds <= SlopeErrorsMin * noise * Math.Sqrt(12.0 / held)) return first;
        double shift = slope * (at - first.ZeroSeconds);
        if (Math.Abs(shift) > Math.Max(DriftNoisesMax * noise, ShareMax * peak)) return first;
        double unknown = shift / Math.Sqrt(3);
        double uncertainty = double.Hypot(first.Reading.PeakForceStandardUncertaintyNewtons ?? 0, unknown);
        List<Sentence> warnings = [.. first.Reading.Warnings, CoreText.ZeroSlopedBefore(slope, shift)];
        if (2 * uncertainty >= peak && 2 * first.Reading.PeakForceStandardUncertaintyNewtons < peak)
            warnings.Add(CoreText.PeakUncertain(uncertainty));
        return first with
        {
            Reading = first.Reading with
            {
                PeakForceStandardUncertaintyNewtons = uncertainty,
                ZeroStandardUncertaintyNewtons = double.Hypot(first.Reading.ZeroStandardUncertaintyNewtons ?? 0, unknown),
                Warnings = warnings,
            },
        };
    }

    /// <summary>Whether the still stretches before and after slope as a drift between them would: by their own slopes, weighted, beyond
    /// what noise makes of them.</summary>
    private static bool Drifts(AnalysedTrace analysed, double broke, double slope, double noise, bool isFar)
    {
        const double Errors = 2, FarErrors = 6, Apart = 3;
        double weights = 0, weighted = 0;
        double until = Rest(analysed, broke) is var (rest, _) ? analysed.Times[rest] : broke + PullAnalysis.RestSeconds;
        foreach ((double from, double to) in new[] { (double.NegativeInfinity, 2 * analysed.ZeroSeconds),
            (until, until + (2 * WindowSeconds)) })
        {
            int[] held = [.. Enumerable.Range(0, analysed.Times.Length).Where(i => analysed.Times[i] >= from && analysed.Times[i] <= to)];
            if (held.Length < ZeroFinder.SamplesMin) continue;
            double[] times = [.. held.Select(i => analysed.Times[i])];
            double seconds = times[^1] - times[0];
            double weight = seconds * seconds * held.Length;
            double own = StillWindow.Judge(times, [.. held.Select(i => analysed.Forces[i])], noise).SlopePerSecond;

            // A toe or a remnant that slopes by itself speaks against it, whatever the other says.
            if (Math.Abs(own - slope) > Apart * noise * Math.Sqrt(12 / weight)) return false;
            weights += weight;
            weighted += weight * own;
        }

        if (!(weights > 0)) return false;
        double seen = weighted / weights, error = noise * Math.Sqrt(12 / weights);
        return Math.Abs(seen) > (isFar ? FarErrors : Errors) * error && Math.Abs(seen - slope) <= Apart * error && seen * slope > 0;
    }

    /// <summary>The first stretch after the break in which nothing is borne, by the limits of a break's ending: between the steps of one
    /// that breaks in several a remnant bears load. The end of it is left out.</summary>
    private static (int From, int To)? Rest(AnalysedTrace trace, double broke)
    {
        double nothing = Math.Max(BreakDetector.NothingLeftPercent / 100 * trace.Reading.RawPeakForceNewtons
            ?? 0, BreakDetector.ContactNoises * trace.Noise);
        int from = trace.End;
        while (from < trace.Times.Length && trace.Times[from] < broke + PullAnalysis.RestSeconds) from++;
        int to = from;
        while (to < trace.Times.Length && trace.Times[to] - trace.Times[from] <= WindowSeconds)
        {
            if (trace.Forces[to++] > nothing) from = to;
        }

        return from < trace.Times.Length ? (from, to) : null;
    }

    /// <summary>The still stretch after the break, above the zero before.</summary>
    private static (double Newtons, double Seconds, int Samples)? After(AnalysedTrace trace, double broke, KnownZero? zero)
    {
        if (zero is { } takenBefore) return takenBefore.AfterNewtons is { } after
            ? (after, trace.Times[^1], Math.Max(takenBefore.Samples, ZeroFinder.SamplesMin)) : null;
        if (Rest(trace, broke) is not var (from, to) || to - from < ZeroFinder.SamplesMin) return null;
        ReadOnlySpan<double> forces = trace.Forces.AsSpan(from..to);
        ReadOnlySpan<double> times = trace.Times.AsSpan(from..to);
        Stillness still = StillWindow.Judge(times, forces, trace.Noise);
        return still.Deviation <= ScatterTimes * trace.Noise ? (still.Mean, NoiseEstimate.Of(times).Mean, to - from) : null;
    }
}
