using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Signal;
using RigDaq.Core.Text;
using RigDaq.Text;

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
        var warnings = new List<Sentence>();
        var samples = FiniteSamples.Of(trace);
        SampleTiming timing = SampleTiming.Of(samples.Times);
        if (samples.LeftOut > 0) warnings.Add(CoreText.SamplesWithoutNumber(samples.LeftOut));
        if (timing.IntervalSeconds > 0 && !timing.IsRegular)
            warnings.Add(CoreText.TimesUneven);
        double? interval = trace.IntervalSeconds ?? (timing.IntervalSeconds > 0 ? timing.IntervalSeconds : null);
        long lost = (trace.SamplesLost ?? timing.SamplesLost) + (trace.SamplesLost is null && timing.IsRegular ? 0 : samples.LeftOut);
        if (lost > 0) warnings.Add(CoreText.SamplesLost(lost));

        ZeroStretch? found = zero is null ? ZeroFinder.Find(samples.Times, samples.Forces, settings.PreloadNewtons ?? 0) : null;
        Sentence refusal = Sentence.None;
        if (found is { } stretch) (found, refusal) = ZeroJudge.Of(samples.Times, samples.Forces, stretch);
        if (!refusal.IsEmpty)
        {
            warnings.Add(refusal);
            found = null;
        }

        double? zeroNewtons = zero?.ZeroNewtons ?? found?.Mean;
        double? noiseNewtons = zero?.NoiseNewtons ?? found?.Deviation;
        if (zeroNewtons is null && refusal.IsEmpty)
            warnings.Add(CoreText.NoZeroBeforeContact(ZeroFinder.SamplesMin));
        var reading = new TraceReading
        {
            Ending = PullEnding.NoContact,
            SampleRateHertz = interval is { } seconds ? 1 / seconds : timing.RateHertz,
            NoiseNewtons = noiseNewtons,
            ZeroNewtons = zeroNewtons,
            SamplesLost = lost,
        };
        var forces = new double[samples.Forces.Length];
        double greatest = 0;
        for (int i = 0; i < forces.Length; i++)
        {
            forces[i] = samples.Forces[i] - (zeroNewtons ?? 0);
            greatest = Math.Max(greatest, Math.Abs(samples.Forces[i]));
        }

        int zeroSamples = zero?.Samples ?? found?.Conversions ?? 0;
        (double noise, int noiseSamples) = WorkingNoise(noiseNewtons, zeroSamples, forces);
        double contactNewtons = Math.Max(settings.PreloadNewtons ?? 0, BreakDetector.ContactNoises * noise);
        contactNewtons = Math.Max(contactNewtons, 1e-9 * greatest);
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
            return new AnalysedTrace(reading with { Warnings = warnings, SpikesRemoved = despiked.Spikes.Count }, despiked.Times,
                despiked.Forces, despiked.Positions, despiked.Spikes, noise, -1, -1);
        var loaded = new LoadedTrace
        {
            Given = trace,
            Despiked = despiked,
            Contact = contact,
            ContactNewtons = contactNewtons,
            Noise = scatter,
            NoiseSamples = noiseSamples,
            IntervalSeconds = interval ?? timing.IntervalSeconds,
            IsEven = timing.IsRegular,
            Step = step,
            ZeroStep = zeroStep,
            ZeroSamples = zeroSamples,
        };
        return LoadReader.Read(loaded, settings, reading, warnings) with
        {
            ZeroSeconds = zero is null && found is { } before ? (samples.Times[0] + before.EndSeconds) / 2 : 0,
            ZeroSamples = zeroSamples,
        };
    }

    /// <summary>Forces beyond all reason overflow on the way: what comes out as no number is null.</summary>
    private static AnalysedTrace FiniteOnly(AnalysedTrace analysed)
    {
        TraceReading reading = analysed.Reading;
        bool overflowed = reading.LoadDrops.Any(drop => !double.IsFinite(drop.DepthNewtons));
        double? Finite(double? figure)
        {
            double? number = Figure.FiniteOrNull(figure);
            overflowed |= number != figure;
            return number;
        }

        TraceReading finite = reading with
        {
            ContactTimeSeconds = Finite(reading.ContactTimeSeconds),
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
        return overflowed ? analysed with { Reading = finite } : analysed;
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
        if (noise is { } ofZero && (zeroSamples <= 0 || zeroSamples >= SmallSample.Telling)) return (Math.Max(ofZero, 0), 0);
        double whole = forces.Length >= SmallSample.Telling ? NoiseEstimate.FromSecondDifferences(forces) : 0;
        if (noise is not { } few) return (whole, 0);
        bool agree = whole >= AgreesShare * few && whole <= AgreesTimes * few;
        return (Math.Max(few, Math.Min(whole, AgreesTimes * few)), agree ? 0 : zeroSamples);
    }
}
