using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Text;

namespace RigDaq.Core.Trace;

/// <summary>
/// Reads a whole trace of a pull: zero, noise, contact, peak, fall, ending, load drops. A pure function; where something cannot
/// be had it is null and a warning says why. Endings follow in this order of precedence: no contact, partly broken, broken,
/// slipped out, unbroken.
/// </summary>
public static class TraceAnalysis
{
    /// <summary>A pull with a drop deeper than this before its peak is marked for a look, in per cent of the maximum at the drop.</summary>
    public const double DeepDropPercent = 5;

    /// <summary>A possible under-read above this share of the peak is warned about, in per cent.</summary>
    public const double UnderReadPercentMax = 1;

    // Below this share of the greatest force is the toe, where slack and grips settle: nothing in it is a specimen's maximum.
    private const double ToeShare = 0.1;

    // How long a cell may ring after a fall.
    private const double RingingSeconds = 0.1;

    /// <summary>Reads a trace.</summary>
    /// <param name="trace">The trace; forces as given, zero not yet taken off.</param>
    /// <param name="settings">How a break is told.</param>
    /// <param name="zero">The zero taken before the pull; null to find one in the trace.</param>
    /// <param name="compliance">The machine's compliance, taken off the extension; null where it was not measured.</param>
    /// <exception cref="ArgumentException">Times and forces differ in number, or the settings are out of range.</exception>
    public static TraceReading Read(
        ForceTrace trace, DetectionSettings settings, KnownZero? zero = null, MachineCompliance? compliance = null) =>
        Analyse(trace, settings, zero, compliance).Reading;

    /// <summary>Reads a trace and keeps the samples that the reading rests on, for pictures and for what the crosshead adds.</summary>
    /// <inheritdoc cref="Read"/>
    public static AnalysedTrace Analyse(
        ForceTrace trace, DetectionSettings settings, KnownZero? zero = null, MachineCompliance? compliance = null) =>
        FiniteOnly(CrossheadAnalysis.Add(ZeroLine.Straighten(trace, zero, (t, z) => AnalyseForces(t, settings, z)), compliance));

    private static AnalysedTrace AnalyseForces(ForceTrace trace, DetectionSettings settings, KnownZero? zero)
    {
        settings.Validate();
        if (trace.TimesSeconds.Length != trace.ForcesNewtons.Length)
            throw new ArgumentException("A trace has one force for each time.", nameof(trace));
        var warnings = new List<string>();
        var samples = FiniteSamples.Of(trace);
        SampleTiming timing = SampleTiming.Of(samples.Times);
        if (samples.LeftOut > 0) warnings.Add(CoreText.SamplesWithoutNumber(samples.LeftOut));
        if (timing.IntervalSeconds > 0 && !timing.IsRegular)
            warnings.Add(CoreText.TimesUneven);
        double? interval = trace.IntervalSeconds ?? (timing.IntervalSeconds > 0 ? timing.IntervalSeconds : null);
        long lost = (trace.SamplesLost ?? timing.SamplesLost) + (trace.SamplesLost is null && timing.IsRegular ? 0 : samples.LeftOut);
        if (lost > 0) warnings.Add(CoreText.SamplesLost(lost));

        ZeroStretch? found = zero is null ? ZeroFinder.Find(samples.Times, samples.Forces, settings.PreloadNewtons ?? 0) : null;
        string refusal = "";
        if (found is { } stretch) (found, refusal) = ZeroJudge.Of(samples.Times, samples.Forces, stretch);
        if (refusal.Length > 0)
        {
            warnings.Add(refusal);
            found = null;
        }

        double? zeroNewtons = zero?.ZeroNewtons ?? found?.Mean;
        double? noiseNewtons = zero?.NoiseNewtons ?? found?.Deviation;
        if (zeroNewtons is null && refusal.Length == 0)
            warnings.Add(CoreText.NoZeroBeforeContact(ZeroFinder.SamplesMin));
        var reading = new TraceReading
        {
            Ending = PullEnding.NoContact,
            SampleRateHertz = interval is { } seconds ? 1 / seconds : timing.RateHertz,
            NoiseNewtons = noiseNewtons,
            ZeroNewtons = zeroNewtons,
            SamplesLost = lost,
        };
        double[] forces = [.. samples.Forces.Select(force => force - (zeroNewtons ?? 0))];
        int zeroSamples = zero?.Samples ?? found?.Conversions ?? 0;
        (double noise, int noiseSamples) = WorkingNoise(noiseNewtons, zeroSamples, forces);
        double contactNewtons = Math.Max(settings.PreloadNewtons ?? 0, BreakDetector.ContactNoises * noise);
        contactNewtons = Math.Max(contactNewtons, 1e-9 * samples.Forces.Select(Math.Abs).DefaultIfEmpty().Max());
        int above = forces.Count(force => force > contactNewtons);
        if (above < BreakDetector.SamplesMin)
        {
            if (above > 0) warnings.Add(CoreText.FewSamplesAboveContact(above, zeroNewtons is null ? null : contactNewtons));
            return new AnalysedTrace(reading with { Warnings = warnings }, samples.Times, forces, samples.Positions, [], noise, -1, -1);
        }

        // Steps coarser than the noise scatter by themselves, whatever a still stretch shows.
        var rounding = Rounding.Of(samples.Forces);
        double step = rounding.StepAt(samples.Forces.Max());
        double zeroStep = found is { } taken
            ? rounding.StepWithin(samples.Forces.AsSpan(0, CountUntil(samples.Times, taken.EndSeconds)), step) : step;
        double scatter = Math.Max(noise, Math.Max(ZeroFinder.Resolution(forces), step) / Math.Sqrt(12));
        (DespikedTrace despiked, double? conversionSeconds) =
            Conversions.Of(DespikedTrace.Of(samples.Times, forces, samples.Positions, scatter));
        if (conversionSeconds is { } conversion)
        {
            interval = conversion;
            warnings.Add(CoreText.ConversionsRepeated(1 / conversion));
        }

        int contact = Contact(despiked.Forces, contactNewtons);
        if (contact < 0)
            return new AnalysedTrace(reading with { Warnings = warnings, SpikesRemoved = despiked.Spikes.Count }, despiked.Times, despiked.Forces, despiked.Positions, despiked.Spikes, noise, -1, -1);
        return ReadPull(
            trace, settings, reading, warnings, despiked, contact, contactNewtons, scatter, interval ?? timing.IntervalSeconds,
            timing.IsRegular, step, zeroStep, zeroSamples, noiseSamples) with
        {
            ZeroSeconds = zero is null && found is { } before ? (samples.Times[0] + before.EndSeconds) / 2 : 0,
            ZeroSamples = zeroSamples,
        };
    }

    private static AnalysedTrace ReadPull(
        ForceTrace trace, DetectionSettings settings, TraceReading reading, List<string> warnings,
        DespikedTrace despiked, int contact, double contactNewtons, double noise, double intervalSeconds, bool isEven, double step,
        double zeroStep, int zeroSamples, int noiseSamples)
    {
        double[] times = despiked.Times;
        double[] forces = despiked.Forces;
        (PullEnding ending, Fall? fall, IReadOnlyList<LoadStep> steps) =
            EndingJudge.Of(despiked, contact, contactNewtons, settings, noise, intervalSeconds, warnings);
        bool separated = ending is PullEnding.Broken or PullEnding.PartlyBroken;
        int last = fall is { } f && separated ? f.Start : fall?.Crossing - 1 ?? forces.Length - 1;
        last = Math.Max(last, contact);
        double raw = double.NegativeInfinity;
        for (int i = contact; i < forces.Length; i++) raw = Math.Max(raw, forces[i]);
        double loadedNoise = NoiseEstimate.UnderLoad(forces.AsSpan(contact..(last + 1)), noise);
        double sampleNoise = StampJitter.Noise(trace, loadedNoise, times, forces, contact, last);
        PeakEstimate? met = fall is { } final ? CornerPeak.Find(times, forces, contact, final, trace.ConverterDelaySeconds, intervalSeconds, sampleNoise) : null;
        PeakEstimate peak = met ?? PeakEstimator.Estimate(times, forces, contact, last, sampleNoise);
        double rise = peak.RateNewtonsPerSecond * (isEven ? intervalSeconds : GapAfter(times, peak, intervalSeconds));

        // Only where it dropped at once the last interval's phase is unknown; a tear shows its corner.
        int top = peak.Last;
        bool atOnce = (separated || top < last) && peak.IsAtEnd && top + 1 < forces.Length && forces[top] - forces[top + 1] > rise + (4 * noise);
        double phase = atOnce ? rise : 0;
        double delayed = peak.RateNewtonsPerSecond * trace.ConverterDelaySeconds;

        // A converter that looks late shows a top late, but as high; what ends while it rises it never shows.
        // However it was fitted, it went up from its greatest sample no faster than it had come.
        double estimate = peak.Newtons + (phase / 2) + (peak.IsAtEnd ? delayed : 0);
        estimate = Math.Min(estimate, raw + Math.Max(rise, StepUp(forces, contact, raw)) + (peak.IsAtEnd ? delayed : 0));
        double corner = atOnce || met is not null ? 0 : PeakUncertainty.Corner(times, forces, contact, last, peak, intervalSeconds);
        bool stands = peak is { Samples: 1, IsAtEnd: false };
        double underRead = met is not null ? 0 : stands ? corner : rise + delayed;
        double ofZero = zeroSamples > 0 ? noise / Math.Sqrt(zeroSamples) : 0;

        // What noise alone must not look like needs the noise's upper limit, where neither zero nor trace tell it well.
        double noiseMax = noise * SmallSample.UpperFactor(zeroSamples > 0 ? Math.Max(zeroSamples, forces.Length) : 0);
        Undulations undulations = LoadDropFinder.Find(times, forces, contact, last, noiseMax, settings.FallSeconds);
        double ripple = PeakUncertainty.Ripple(times, forces, SteadyFrom(times, forces, contact, last, undulations), last, peak, zeroSamples * intervalSeconds);
        double ofStep = PeakUncertainty.Step(step, noise) * PeakUncertainty.Dithered(forces, peak, step);
        double ofZeroStep = reading.ZeroNewtons is null ? 0 : PeakUncertainty.Step(zeroStep, noise);
        double uncertainty = double.Hypot(ripple, PeakUncertainty.Of(
            peak.StandardUncertaintyNewtons, phase, corner, ofZero, double.Hypot(ofStep, ofZeroStep), noiseSamples));
        double? first = undulations.Drops.Concat(undulations.SlowFalls).OrderBy(drop => drop.TimeSeconds)
            .Where(drop => drop.TimeSeconds < peak.TimeSeconds).Select(drop => (double?)ForceAt(times, forces, drop.TimeSeconds))
            .FirstOrDefault(force => force >= ToeShare * raw);
        if (2 * uncertainty >= estimate) warnings.Add(CoreText.PeakUncertain(uncertainty));
        Warn(warnings, reading, trace, forces, times, contact, last, raw, noise, peak, underRead, undulations, fall, separated, intervalSeconds, step);
        double? parted = ending == PullEnding.SlippedOut && SuddenParting.Find(times, forces, contact, fall!.Value, settings, noise) is { } at ? forces[at] : null;
        if (parted is { } bore) warnings.Add(CoreText.PartedAfterDrawing(bore));
        var result = reading with
        {
            Ending = ending,
            SuddenPartingForceNewtons = parted,
            PeakForceNewtons = estimate,
            PeakForceStandardUncertaintyNewtons = uncertainty,
            ZeroStandardUncertaintyNewtons = ofZero * SmallSample.StudentFactor(noiseSamples),
            PeakForceBoundNewtons = Math.Max(Math.Max(phase / 2, corner), ofStep * Math.Sqrt(3)),
            RawPeakForceNewtons = raw,
            ContactTimeSeconds = times[contact],
            PeakTimeSeconds = peak.TimeSeconds,
            FirstMaximumForceNewtons = first,
            BreakForceNewtons = separated ? forces[fall!.Value.Start] : null,
            BreakTimeSeconds = separated ? times[fall!.Value.Start] : null,
            LoadingRateNewtonsPerSecond = peak.RateNewtonsPerSecond,
            PeakSamples = peak.Samples,
            UnderReadNewtons = underRead,
            LoadDrops = undulations.Drops,
            Steps = steps,
            SpikesRemoved = despiked.Spikes.Count(spike => !Rings(fall, times, spike.TimeSeconds)),
            Warnings = warnings,
        };
        var analysed = new AnalysedTrace(
            result, times, forces, despiked.Positions, despiked.Spikes, noise, contact, separated ? fall!.Value.Start : last);
        return separated ? FractureJudgement.Add(analysed, fall!.Value) : analysed;
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
    private static int SteadyFrom(double[] times, double[] forces, int contact, int last, Undulations undulations)
    {
        // A specimen drops a few times; what goes up and down more often is a wave.
        const int DropsMax = 4;
        double level = ToeShare * forces[last];
        double since = double.NegativeInfinity;
        LoadDrop[] all = [.. undulations.Drops, .. undulations.SlowFalls];
        foreach (LoadDrop drop in all.Length > DropsMax ? [] : all)
        {
            since = Math.Max(since, drop.TimeSeconds);
            level = Math.Max(level, ForceAt(times, forces, drop.TimeSeconds));
        }

        int from = contact;
        while (from < last && (times[from] <= since || forces[from] < level)) from++;
        return from;
    }

    /// <summary>Forces beyond all reason overflow on the way: what comes out as no number is null.</summary>
    private static AnalysedTrace FiniteOnly(AnalysedTrace analysed)
    {
        TraceReading reading = analysed.Reading;
        double?[] figures =
        [
            reading.PeakForceNewtons, reading.PeakForceStandardUncertaintyNewtons, reading.LoadingRateNewtonsPerSecond, reading.UnderReadNewtons,
            reading.RawPeakForceNewtons, reading.NoiseNewtons, reading.ZeroNewtons, reading.BreakForceNewtons, reading.SampleRateHertz,
            reading.InitialSlopeNewtonsPerMillimetre, reading.InitialSlopeStandardUncertaintyNewtonsPerMillimetre, reading.ExtensionAtPeakMillimetres, reading.ExtensionAtBreakMillimetres,
            reading.WorkToBreakJoules, reading.WorkAfterPeakJoules, reading.PeakTimeSeconds, reading.BreakTimeSeconds, reading.FirstMaximumForceNewtons,
            reading.ExtensionAfterPeakMillimetres, reading.WorkAfterPeakShare, reading.FallRateNewtonsPerSecond,
            reading.SuddenPartingForceNewtons, reading.PeakForceBoundNewtons,
        ];
        if (figures.All(figure => figure is null || double.IsFinite(figure.Value)) && reading.LoadDrops.All(drop => double.IsFinite(drop.DepthNewtons)))
            return analysed;
        static double? Finite(double? figure) => figure is { } value && double.IsFinite(value) ? value : null;
        reading = reading with
        {
            PeakForceNewtons = Finite(reading.PeakForceNewtons),
            PeakForceStandardUncertaintyNewtons = Finite(reading.PeakForceStandardUncertaintyNewtons),
            ZeroStandardUncertaintyNewtons = Finite(reading.ZeroStandardUncertaintyNewtons),
            PeakForceBoundNewtons = Finite(reading.PeakForceBoundNewtons),
            LoadingRateNewtonsPerSecond = Finite(reading.LoadingRateNewtonsPerSecond),
            UnderReadNewtons = Finite(reading.UnderReadNewtons),
            RawPeakForceNewtons = Finite(reading.RawPeakForceNewtons),
            NoiseNewtons = Finite(reading.NoiseNewtons),
            ZeroNewtons = Finite(reading.ZeroNewtons),
            BreakForceNewtons = Finite(reading.BreakForceNewtons),
            SampleRateHertz = Finite(reading.SampleRateHertz),
            InitialSlopeNewtonsPerMillimetre = Finite(reading.InitialSlopeNewtonsPerMillimetre),
            InitialSlopeStandardUncertaintyNewtonsPerMillimetre = Finite(reading.InitialSlopeStandardUncertaintyNewtonsPerMillimetre),
            ExtensionAtPeakMillimetres = Finite(reading.ExtensionAtPeakMillimetres),
            ExtensionAtBreakMillimetres = Finite(reading.ExtensionAtBreakMillimetres),
            WorkToBreakJoules = Finite(reading.WorkToBreakJoules),
            WorkAfterPeakJoules = Finite(reading.WorkAfterPeakJoules),
            PeakTimeSeconds = Finite(reading.PeakTimeSeconds),
            BreakTimeSeconds = Finite(reading.BreakTimeSeconds),
            FirstMaximumForceNewtons = Finite(reading.FirstMaximumForceNewtons),
            ExtensionAfterPeakMillimetres = Finite(reading.ExtensionAfterPeakMillimetres),
            WorkAfterPeakShare = Finite(reading.WorkAfterPeakShare),
            SuddenPartingForceNewtons = Finite(reading.SuddenPartingForceNewtons),
            FallRateNewtonsPerSecond = Finite(reading.FallRateNewtonsPerSecond),
            LoadDrops = [.. reading.LoadDrops.Where(drop => double.IsFinite(drop.DepthNewtons))],
            Warnings = [.. reading.Warnings, CoreText.TraceBeyondComputing],
        };
        return analysed with { Reading = reading };
    }

    private static void Warn(
        List<string> warnings, TraceReading reading, ForceTrace trace, double[] forces, double[] times, int contact, int last, double raw,
        double noise, PeakEstimate peak, double underRead, Undulations undulations, Fall? fall, bool separated, double intervalSeconds, double step)
    {
        if (underRead > UnderReadPercentMax / 100 * peak.Newtons)
        {
            double factor = underRead / (UnderReadPercentMax / 100 * peak.Newtons);
            double? rate = intervalSeconds > 0 ? factor / intervalSeconds : null;
            warnings.Add(CoreText.PeakUnderRead(underRead, 100 * underRead / peak.Newtons, factor, rate, UnderReadPercentMax));
        }

        double deepest = undulations.Drops.Where(drop => drop.TimeSeconds <= peak.TimeSeconds && ForceAt(times, forces, drop.TimeSeconds) >= ToeShare * raw)
            .Select(drop => 100 * drop.DepthNewtons / Math.Max(ForceAt(times, forces, drop.TimeSeconds), double.Epsilon)).DefaultIfEmpty().Max();
        if (deepest > DeepDropPercent) warnings.Add(CoreText.DroppedBeforePeak(deepest));
        foreach (LoadDrop slow in undulations.SlowFalls)
            warnings.Add(CoreText.FellSlowly(slow.TimeSeconds, slow.DepthNewtons));
        double ceiling = trace.SaturationNewtons - (reading.ZeroNewtons ?? 0) ?? double.PositiveInfinity;
        if (raw >= ceiling || (noise > 0 && EqualValues.StandAtTop(forces, contact, last, raw, noise, step)))
            warnings.Add(CoreText.PeakFlat);
        int stuck = EqualValues.Stuck(forces, contact, last, noise, step);
        if (noise > 0 && stuck * intervalSeconds > EqualValues.StuckSeconds)
            warnings.Add(CoreText.SamplesStuck(stuck));
        if (fall is { } f && separated)
        {
            double gap = times[Math.Min(f.Crossing, times.Length - 1)] - times[f.Start];
            if (f.Crossing == f.Start + 1 && intervalSeconds > 0 && gap > 1.5 * intervalSeconds)
                warnings.Add(CoreText.SamplesLostInFall(1000 * gap));
            if (f.LeftNewtons < -Math.Max(BreakDetector.ContactNoises * noise, 0.01 * raw))
                warnings.Add(CoreText.ForceBelowZeroAfterBreak(-f.LeftNewtons));
        }
    }

    /// <summary>Whether a sample that looks like a spike is the cell that rings after a fall.</summary>
    private static bool Rings(Fall? fall, double[] times, double time) =>
        fall is { Seconds: < RingingSeconds } f && time > times[f.Start] && time < times[f.Crossing] + RingingSeconds;

    private static double ForceAt(double[] times, double[] forces, double time)
    {
        int at = Array.BinarySearch(times, time);
        return forces[at >= 0 ? at : Math.Min(~at, forces.Length - 1)];
    }

    private static int Contact(double[] forces, double contactNewtons)
    {
        int run = 0;
        for (int i = 0; i < forces.Length; i++)
        {
            run = forces[i] > contactNewtons ? run + 1 : 0;
            if (run == BreakDetector.SamplesMin) return i - BreakDetector.SamplesMin + 1;
        }

        return -1;
    }

    /// <summary>How many samples lie up to a time.</summary>
    private static int CountUntil(double[] times, double seconds)
    {
        int count = 0;
        while (count < times.Length && times[count] <= seconds) count++;
        return count;
    }

    /// <summary>
    /// The noise that limits are made of, and how many conversions it is known from (0: many, or not known): a zero of few
    /// conversions tells little, then the whole trace helps. Where both tell about the same, the greater of the two is rather too
    /// much than too little, and is widened no more.
    /// </summary>
    private static (double Noise, int Samples) WorkingNoise(double? noise, int zeroSamples, double[] forces)
    {
        // A whole trace that tells less than this share of what the zero does is no witness: it was smoothed, or filled in.
        const double AgreesShare = 0.5;
        const double AgreesTimes = 3;
        if (noise is { } known && (zeroSamples <= 0 || zeroSamples >= SmallSample.Telling)) return (Math.Max(known, 0), 0);
        double whole = forces.Length >= SmallSample.Telling ? NoiseEstimate.FromSecondDifferences(forces) : 0;
        if (noise is not { } few) return (whole, 0);
        bool agree = whole >= AgreesShare * few && whole <= AgreesTimes * few;
        return (Math.Max(few, Math.Min(whole, AgreesTimes * few)), agree ? 0 : zeroSamples);
    }
}
