using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Trace;

/// <summary>Reads what a specimen bore: ending, peak with its uncertainty, drops; and what a person should know of them.</summary>
internal static class LoadReader
{
    // Below this share of the greatest force is the toe, where slack and grips settle: nothing in it is a specimen's maximum.
    private const double ToeShare = 0.1;

    /// <summary>What was found on the way.</summary>
    /// <param name="Parting">The fall that separated the specimen; null where none did.</param>
    /// <param name="Last">The last sample before the fall, or of the trace.</param>
    /// <param name="RawNewtons">The greatest sample.</param>
    /// <param name="Peak">The estimate.</param>
    /// <param name="UnderReadNewtons">By how much the true peak can have been higher.</param>
    /// <param name="Undulations">Falls that recovered.</param>
    private sealed record Found(Fall? Parting, int Last, double RawNewtons, PeakEstimate Peak, double UnderReadNewtons,
        Undulations Undulations);

    /// <summary>Reads it.</summary>
    /// <param name="trace">The samples.</param>
    /// <param name="settings">How a break is told.</param>
    /// <param name="reading">What is known of the trace besides.</param>
    /// <param name="warnings">What a person should know is added.</param>
    public static AnalysedTrace Read(LoadedTrace trace, DetectionSettings settings, TraceReading reading, List<Sentence> warnings)
    {
        (double[] times, double[] forces) = (trace.Times, trace.Forces);
        (int contact, double noise, double intervalSeconds) = (trace.Contact, trace.Noise, trace.IntervalSeconds);
        (PullEnding ending, Fall? fall, IReadOnlyList<LoadStep> steps) = EndingJudge.Of(trace, settings, warnings);
        Fall? parting = ending is PullEnding.Broken or PullEnding.PartlyBroken ? fall : null;
        int last = Math.Max(parting?.Start ?? fall?.Crossing - 1 ?? forces.Length - 1, contact);
        double raw = double.NegativeInfinity;
        for (int i = contact; i < forces.Length; i++) raw = Math.Max(raw, forces[i]);
        double loadedNoise = NoiseEstimate.UnderLoad(forces.AsSpan(contact..(last + 1)), noise);
        double sampleNoise = StampJitter.Noise(trace, loadedNoise, last);
        PeakEstimate? cornerPeak = fall is { } final ? CornerPeak.Find(trace, final, sampleNoise) : null;
        PeakEstimate peak = cornerPeak ?? PeakEstimator.Estimate(times, forces, contact, last, sampleNoise);
        double rise = peak.RateNewtonsPerSecond * (trace.IsEven ? intervalSeconds : GapAfter(times, peak, intervalSeconds));

        // Only where it dropped at once the last interval's phase is unknown; a tear shows its corner.
        int top = peak.Last;
        bool atOnce = (parting is not null || top < last) && peak.IsAtEnd && top + 1 < forces.Length
            && forces[top] - forces[top + 1] > rise + (4 * noise);
        double phase = atOnce ? rise : 0;
        double delayed = peak.RateNewtonsPerSecond * trace.Given.ConverterDelaySeconds;

        // A converter that looks late shows a top late, but as high; what ends while it rises it never shows.
        // However it was fitted, it went up from its greatest sample no faster than it had come.
        double estimate = peak.Newtons + (phase / 2) + (peak.IsAtEnd ? delayed : 0);
        estimate = Math.Min(estimate, raw + Math.Max(rise, StepUp(forces, contact, raw)) + (peak.IsAtEnd ? delayed : 0));
        double corner = atOnce || cornerPeak is not null ? 0 : PeakUncertainty.Corner(trace, last, peak);
        bool stands = peak is { Samples: 1, IsAtEnd: false };
        double underRead = cornerPeak is not null ? 0 : stands ? corner : rise + delayed;
        double zeroUncertainty = trace.ZeroSamples > 0 ? noise / Math.Sqrt(trace.ZeroSamples) : 0;

        // What noise alone must not look like needs the noise's upper limit, where neither zero nor trace tell it well.
        double noiseMax = noise * SmallSample.UpperFactor(trace.ZeroSamples > 0 ? Math.Max(trace.ZeroSamples, forces.Length) : 0);
        Undulations undulations = LoadDropFinder.Find(trace, last, noiseMax, settings.FallSeconds);
        double ripple = PeakUncertainty.Ripple(trace, SteadyFrom(trace, last, undulations), last, peak);
        double ofStep = PeakUncertainty.Step(trace.Step, noise) * PeakUncertainty.Dithered(forces, peak, trace.Step);
        double ofZeroStep = reading.ZeroNewtons is null ? 0 : PeakUncertainty.Step(trace.ZeroStep, noise);
        double uncertainty = double.Hypot(ripple, PeakUncertainty.Of(
            peak.StandardUncertaintyNewtons, phase, corner, zeroUncertainty, double.Hypot(ofStep, ofZeroStep), trace.NoiseSamples));
        double? first = undulations.Drops.Concat(undulations.SlowFalls).OrderBy(drop => drop.TimeSeconds)
            .Where(drop => drop.TimeSeconds < peak.TimeSeconds).Select(drop => (double?)trace.ForceAt(drop.TimeSeconds))
            .FirstOrDefault(force => force >= ToeShare * raw);
        if (2 * uncertainty >= estimate) warnings.Add(CoreText.PeakUncertain(uncertainty));
        Warn(trace, new Found(parting, last, raw, peak, underRead, undulations), reading.ZeroNewtons ?? 0, warnings);
        double? partingForce = ending == PullEnding.SlippedOut && SuddenParting.Find(trace, fall!.Value, settings) is { } at
            ? forces[at] : null;
        if (partingForce is { } newtons) warnings.Add(CoreText.PartedAfterDrawing(newtons));
        var result = reading with
        {
            Ending = ending,
            SuddenPartingForceNewtons = partingForce,
            PeakForceNewtons = estimate,
            PeakForceStandardUncertaintyNewtons = uncertainty,
            ZeroStandardUncertaintyNewtons = zeroUncertainty * SmallSample.StudentFactor(trace.NoiseSamples),
            PeakForceBoundNewtons = Math.Max(Math.Max(phase / 2, corner), ofStep * Math.Sqrt(3)),
            RawPeakForceNewtons = raw,
            ContactTimeSeconds = times[contact],
            PeakTimeSeconds = peak.TimeSeconds,
            FirstMaximumForceNewtons = first,
            BreakForceNewtons = parting is { } broke ? forces[broke.Start] : null,
            BreakTimeSeconds = parting is { } begun ? times[begun.Start] : null,
            LoadingRateNewtonsPerSecond = peak.RateNewtonsPerSecond,
            PeakSamples = peak.Samples,
            UnderReadNewtons = underRead,
            LoadDrops = undulations.Drops,
            Steps = steps,
            SpikesRemoved = trace.Despiked.Spikes.Count(spike => !Rings(fall, times, spike.TimeSeconds)),
            Warnings = warnings,
        };
        var analysed = new AnalysedTrace(result, times, forces, trace.Despiked.Positions, trace.Despiked.Spikes, noise, contact,
            parting?.Start ?? last);
        return parting is { } separating ? FractureJudgement.Add(analysed, separating) : analysed;
    }

    private static void Warn(LoadedTrace trace, Found found, double zeroNewtons, List<Sentence> warnings)
    {
        (double[] times, PeakEstimate peak) = (trace.Times, found.Peak);
        (double raw, double noise, double intervalSeconds) = (found.RawNewtons, trace.Noise, trace.IntervalSeconds);
        if (found.UnderReadNewtons > TraceAnalysis.UnderReadPercentMax / 100 * peak.Newtons)
        {
            double factor = found.UnderReadNewtons / (TraceAnalysis.UnderReadPercentMax / 100 * peak.Newtons);
            double? rate = intervalSeconds > 0 ? factor / intervalSeconds : null;
            warnings.Add(CoreText.PeakUnderRead(
                found.UnderReadNewtons, 100 * found.UnderReadNewtons / peak.Newtons, factor, rate, TraceAnalysis.UnderReadPercentMax));
        }

        double deepest =
            found.Undulations.Drops.Where(drop => drop.TimeSeconds <= peak.TimeSeconds && trace.ForceAt(drop.TimeSeconds) >= ToeShare * raw)
            .Select(drop => 100 * drop.DepthNewtons / Math.Max(trace.ForceAt(drop.TimeSeconds), double.Epsilon)).DefaultIfEmpty().Max();
        if (deepest > TraceAnalysis.DeepDropPercent) warnings.Add(CoreText.DroppedBeforePeak(deepest));
        foreach (LoadDrop slow in found.Undulations.SlowFalls) warnings.Add(CoreText.FellSlowly(slow.TimeSeconds, slow.DepthNewtons));
        double ceiling = trace.Given.SaturationNewtons - zeroNewtons ?? double.PositiveInfinity;
        if (raw >= ceiling || (noise > 0 && EqualValues.StandAtTop(trace, found.Last, raw))) warnings.Add(CoreText.PeakFlat);
        int stuck = EqualValues.Stuck(trace, found.Last);
        if (noise > 0 && stuck * intervalSeconds > EqualValues.StuckSeconds) warnings.Add(CoreText.SamplesStuck(stuck));
        if (found.Parting is { } fall)
        {
            double gap = times[Math.Min(fall.Crossing, times.Length - 1)] - times[fall.Start];
            if (fall.Crossing == fall.Start + 1 && intervalSeconds > 0 && gap > 1.5 * intervalSeconds)
                warnings.Add(CoreText.SamplesLostInFall(1000 * gap));
            if (fall.LeftNewtons < -Math.Max(BreakDetector.ContactNoises * noise, 0.01 * raw))
                warnings.Add(CoreText.ForceBelowZeroAfterBreak(-fall.LeftNewtons));
        }
    }

    /// <summary>From the last sample before a drop to the next: longer than usual where samples are uneven.</summary>
    private static double GapAfter(double[] times, PeakEstimate peak, double intervalSeconds)
    {
        int next = peak.Last + 1;
        return peak.IsAtEnd && next < times.Length ? Math.Max(intervalSeconds, times[next] - times[peak.Last]) : intervalSeconds;
    }

    /// <summary>The step up to the greatest sample.</summary>
    private static double StepUp(double[] forces, int contact, double raw)
    {
        int top = Array.IndexOf(forces, raw, contact);
        return top > contact ? forces[top] - forces[top - 1] : 0;
    }

    /// <summary>From where a loading is one smooth curve: past its toe, and past the last fall that recovered.</summary>
    private static int SteadyFrom(LoadedTrace trace, int last, Undulations undulations)
    {
        // A specimen drops a few times; what goes up and down more often is a wave.
        const int DropsMax = 4;
        double level = ToeShare * trace.Forces[last];
        double since = double.NegativeInfinity;
        LoadDrop[] all = [.. undulations.Drops, .. undulations.SlowFalls];
        foreach (LoadDrop drop in all.Length > DropsMax ? [] : all)
        {
            since = Math.Max(since, drop.TimeSeconds);
            level = Math.Max(level, trace.ForceAt(drop.TimeSeconds));
        }

        int from = trace.Contact;
        while (from < last && (trace.Times[from] <= since || trace.Forces[from] < level)) from++;
        return from;
    }

    /// <summary>Whether a sample that looks like a spike is the cell that rings after a fall.</summary>
    private static bool Rings(Fall? fall, double[] times, double time) =>
        fall is { Seconds: < Ringing.SpikesSecondsMax } f && time > times[f.Start] && time < times[f.Crossing] + Ringing.SpikesSecondsMax;
}
