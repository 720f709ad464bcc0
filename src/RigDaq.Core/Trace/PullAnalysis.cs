using System.Runtime.InteropServices;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Text;

namespace RigDaq.Core.Trace;

/// <summary>What was read from a pull under a calibration.</summary>
/// <param name="Reading">Its trace read; <see cref="TraceReading.Ending"/> is what the force alone tells.</param>
/// <param name="ZeroShiftNewtons">The shift of the zero over the pull; null where no still stretch followed the break.</param>
public sealed record PullReading(TraceReading Reading, double? ZeroShiftNewtons);

/// <summary>From the raw samples of a pull and a force curve to its reading; the same pull can be read again under another curve.</summary>
public static class PullAnalysis
{
    /// <summary>A zero that shifted by more than this share of the greatest calibrated force is warned about, in per cent.</summary>
    public const double ZeroShiftPercentMax = 0.1;

    /// <summary>How long the cell is given to come to rest after the fall before its zero is looked at, in seconds.</summary>
    public const double RestSeconds = 0.25;

    /// <summary>Reads a pull.</summary>
    /// <param name="pull">The pull as the rig recorded it.</param>
    /// <param name="curve">Deflection in counts to newtons.</param>
    /// <param name="greatestReferenceNewtons">The greatest calibrated force, for the limit of the zero's shift; null to leave that
    /// out.</param>
    /// <param name="compliance">The machine's compliance, taken off the extension; null where it was not measured.</param>
    public static PullReading Read(
        PullRecord pull, ForceCurve curve, double? greatestReferenceNewtons = null, MachineCompliance? compliance = null)
    {
        AnalysedTrace analysed = Analyse(pull, curve, compliance);
        TraceReading reading = analysed.Reading with
        { ZeroNewtons = curve.Newtons(pull.Head.ZeroCounts), Gauge = GaugeAnalysis.Of(analysed, pull) };
        reading = StampJitter.Count(reading, pull.Head.StampStandardUncertaintySeconds, pull.Trace.IntervalSeconds);
        reading = StampSkip.Count(reading, pull);
        if (PullHistory.Warnings(pull.Head) is { Count: > 0 } earlier) reading = reading with
        { Warnings = [.. reading.Warnings, .. earlier] };
        double? shift = ZeroShift(pull, curve, reading);
        if (shift is { } newtons && greatestReferenceNewtons is > 0 and { } greatest && Math.Abs(newtons) > ZeroShiftPercentMax / 100
            * greatest)
        {
            reading = reading with { Warnings = [.. reading.Warnings, CoreText.ZeroShifted(newtons, ZeroShiftPercentMax, greatest)] };
        }

        return new PullReading(reading, shift);
    }

    /// <summary>Reads a pull's trace and keeps the samples that the reading rests on.</summary>
    /// <inheritdoc cref="Read"/>
    public static AnalysedTrace Analyse(PullRecord pull, ForceCurve curve, MachineCompliance? compliance = null)
    {
        double noise = Math.Abs(curve.NewtonsPerCount(0)) * pull.Head.NoiseCounts;
        int zeroSamples = pull.Trace.IntervalSeconds > 0
            ? (int)Math.Min(pull.Head.Settings.ZeroSeconds / pull.Trace.IntervalSeconds, int.MaxValue) : 0;
        // A recording of others has no zero that was taken beforehand: it is found in the trace, as it is in a file.
        double? after = pull.ZeroReturnCounts is { } counts ? curve.Newtons(counts - pull.Head.ZeroCounts) : null;
        KnownZero? zero = pull.Head.Recording is null ? new KnownZero(0, noise, zeroSamples, pull.Head.ZeroAgeSeconds ?? 0, after) : null;
        return TraceAnalysis.Analyse(Trace(pull, curve), pull.Head.Settings.Detection, zero, compliance);
    }

    /// <summary>
    /// The extension of a channel at each sample of a pull's trace, counted from contact; NaN where there is none.
    /// </summary>
    public static double[] Extensions(PullRecord pull, AnalysedTrace trace, ChannelCurve channel) =>
        GaugeAnalysis.Extensions(trace, channel, pull.Trace.ConverterDelaySeconds);

    /// <summary>The forces of a pull above its zero, over time from its first sample.</summary>
    public static ForceTrace Trace(PullRecord pull, ForceCurve curve)
    {
        ReadOnlySpan<RawSample> samples = Samples(pull);
        int n = samples.Length;
        var times = new double[n];
        var forces = new double[n];
        double[]? positions = pull.Trace.StepsPerMillimetre is > 0 ? new double[n] : null;
        for (int i = 0; i < n; i++)
        {
            RawSample sample = samples[i];
            times[i] = (sample.DeviceMicroseconds - samples[0].DeviceMicroseconds) / 1e6;
            forces[i] = curve.Newtons(sample.Counts - pull.Head.ZeroCounts);
            if (positions is not null) positions[i] = sample.CrossheadSteps / pull.Trace.StepsPerMillimetre!.Value;
        }

        // What another program recorded says of its times no more than they tell themselves.
        if (pull.Head.Recording is not null) return new ForceTrace
        { TimesSeconds = times, ForcesNewtons = forces, PositionsMillimetres = positions };
        return new ForceTrace
        {
            TimesSeconds = times,
            ForcesNewtons = forces,
            PositionsMillimetres = positions,
            SamplesLost = n == 0 ? 0 : Math.Max(0, samples[n - 1].Number - samples[0].Number + 1 - n),
            IntervalSeconds = pull.Trace.IntervalSeconds > 0 ? pull.Trace.IntervalSeconds : null,
            ConverterDelaySeconds = pull.Trace.ConverterDelaySeconds,
            StampStandardUncertaintySeconds = pull.Head.StampStandardUncertaintySeconds,
            SaturationNewtons = CountsTrace.SaturationNewtons(curve, pull.Head.ZeroCounts),
        };
    }

    /// <summary>The samples in one stretch of memory, where each is not asked for by a call.</summary>
    private static ReadOnlySpan<RawSample> Samples(PullRecord pull) => pull.Trace.Samples switch
    {
        RawSample[] array => array,
        List<RawSample> list => CollectionsMarshal.AsSpan(list),
        var others => others.ToArray(),
    };

    private static double? ZeroShift(PullRecord pull, ForceCurve curve, TraceReading reading)
    {
        if (pull.Head.Recording is not null) return null;
        double? after = pull.ZeroReturnCounts;
        if (after is null && reading.BreakTimeSeconds is { } broke && pull.Ending == PullEnding.Broken)
        {
            ReadOnlySpan<RawSample> samples = Samples(pull);
            double start = samples[0].DeviceMicroseconds / 1e6;
            var times = new List<double>();
            var counts = new List<double>();
            foreach (ref readonly RawSample sample in samples)
            {
                double seconds = sample.DeviceMicroseconds / 1e6;
                if (!(seconds - start > broke + RestSeconds)) continue;
                times.Add(seconds);
                counts.Add(sample.Counts);
            }

            Stillness still = StillWindow.Judge(
                CollectionsMarshal.AsSpan(times), CollectionsMarshal.AsSpan(counts), pull.Head.NoiseCounts);
            if (still.IsStill) after = still.Mean;
        }

        return after is { } zero ? curve.Newtons(zero - pull.Head.ZeroCounts) : null;
    }
}
