using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Text;

namespace RigDaq.Core.Trace;

/// <summary>
/// Stamps that the host makes of arrivals go on evenly when a device skips readings, and catch up some lines later: until then they are
/// early by what was skipped, which their scatter does not tell. The catching up stands in the stamps as a step, and where one lies in or
/// soon after the samples that the peak rests on, it counts.
/// </summary>
internal static class StampSkip
{
    // The host's stamps catch up within a dozen lines.
    private const int CatchUpSamples = 12;

    // Smaller steps are the scatter that is known already, in intervals.
    private const double StepIntervalsMin = 1;

    /// <summary>Counts it in.</summary>
    /// <param name="reading">The reading, with its stamps' scatter counted.</param>
    /// <param name="pull">The pull; one whose stamps are the device's own is left as it is.</param>
    public static TraceReading Count(TraceReading reading, PullRecord pull)
    {
        double interval = pull.Trace.IntervalSeconds;
        if (!(pull.Head.StampStandardUncertaintySeconds > 0) || !(interval > 0)) return reading;
        if (reading is not { PeakTimeSeconds: { } peakTime, LoadingRateNewtonsPerSecond: { } rate, PeakSamples: { } samples }) return
            reading;
        double jump = Jump(pull.Trace.Samples, interval, peakTime - (samples * interval), peakTime + ((CatchUpSamples + 2) * interval));
        if (jump <= StepIntervalsMin * interval) return reading;

        // Half the samples off by the step turn a line's slope by 1.5 steps over its length (least squares), a parabola's at its end by up
        // to some six, and move its end by a step.
        // A step can even look like a top, where the rate is none: the mean rate since contact is the scale then.
        double loaded = peakTime - (reading.ContactTimeSeconds ?? peakTime);
        double scale = Math.Max(rate, loaded > 0 ? (reading.PeakForceNewtons ?? 0) / loaded : 0);
        double ofRate = 3 * scale * jump / (Math.Max(2, samples) * interval), ofPeak = scale * jump;
        return reading with
        {
            LoadingRateStandardUncertaintyNewtonsPerSecond = double.Hypot(reading.LoadingRateStandardUncertaintyNewtonsPerSecond ?? 0,
                ofRate),
            PeakForceStandardUncertaintyNewtons = double.Hypot(reading.PeakForceStandardUncertaintyNewtons ?? 0, ofPeak),
            Warnings = [.. reading.Warnings, CoreText.ReadingsSkippedAtPeak(1000 * jump)],
        };
    }

    private static double Jump(IReadOnlyList<RawSample> samples, double interval, double from, double to)
    {
        double greatest = 0;
        for (int i = 1; i < samples.Count; i++)
        {
            double time = (samples[i - 1].DeviceMicroseconds - samples[0].DeviceMicroseconds) / 1e6;
            if (time < from) continue;
            if (time > to) break;

            // Lines that were lost took their numbers with them; readings that were never made did not.
            double expected = (samples[i].Number - samples[i - 1].Number) * interval;
            greatest = Math.Max(greatest, ((samples[i].DeviceMicroseconds - samples[i - 1].DeviceMicroseconds) / 1e6) - expected);
        }

        return greatest;
    }
}
