using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Trace;

/// <summary>
/// Makes a pull of a trace that another program recorded, so that it is kept, read and read again as every other: its forces in newtons are
/// kept as whole multiples of a power of ten, and the claim that turns them back is a calibration without a reference.
/// </summary>
public static class RecordedPull
{
    /// <summary>Stands where a device's identity stands: no device of ours measured it.</summary>
    public const string DeviceId = "0000000000000000";

    // Below the ends of a 32-bit integer, so that a zero can be taken off.
    private const double CountsMax = 1e9;
    private const double StepsPerMillimetre = 1e6;
    private const double CoarseStepsPerMillimetre = 1e3;
    private const int ExponentMax = 12;

    /// <summary>The step in which forces up to a greatest are kept: a power of ten, less than a hundred-millionth of it.</summary>
    /// <param name="greatestNewtons">The greatest of all traces that belong together, without its sign.</param>
    public static double StepNewtons(double greatestNewtons)
    {
        int exponent = greatestNewtons > 0 ? (int)Math.Ceiling(Math.Log10(greatestNewtons / CountsMax)) : 0;
        exponent = Math.Clamp(exponent, -ExponentMax, ExponentMax);

        // Powers of ten below one are nearest where they are divided.
        return exponent < 0 ? 1 / Math.Pow(10, -exponent) : Math.Pow(10, exponent);
    }

    /// <summary>What turns kept steps back into newtons.</summary>
    /// <param name="stepNewtons">The step.</param>
    /// <param name="now">When it is kept.</param>
    public static CalibrationRecord Claim(double stepNewtons, DateTimeOffset now) => new()
    {
        Id = Guid.CreateVersion7(now).ToString(),
        DeviceId = DeviceId,
        AcceptedAt = now,
        ValidUntil = DateTimeOffset.MaxValue,
        Curve = new ForceCurve([stepNewtons]),
        GreatestReferenceNewtons = 0,
        Circumstances = new CalibrationCircumstances { Remarks = CoreText.RecordedClaim },
    };

    /// <summary>Makes the pull.</summary>
    /// <param name="source">Where the trace came from.</param>
    /// <param name="studyId">The study.</param>
    /// <param name="specimenId">The specimen.</param>
    /// <param name="claim">From <see cref="Claim"/>.</param>
    /// <param name="trace">The trace; samples without a force are left out and count as lost.</param>
    /// <param name="detection">How a break is told.</param>
    /// <param name="at">When it joins the study: the recording's own day is not known.</param>
    /// <exception cref="RefusalException">The trace holds no force, or a force or position that cannot be kept.</exception>
    public static PullRecord Make(RecordedSource source, string studyId, string specimenId, CalibrationRecord claim, ForceTrace trace,
        DetectionSettings detection, DateTimeOffset at)
    {
        double step = claim.Curve.Coefficients[0];
        TraceReading reading = TraceAnalysis.Read(trace, detection);
        double perMillimetre = trace.PositionsMillimetres?.Select(Math.Abs).DefaultIfEmpty().Max() * StepsPerMillimetre > CountsMax
            ? CoarseStepsPerMillimetre : StepsPerMillimetre;
        var samples = new List<RawSample>(trace.TimesSeconds.Length);
        for (int i = 0; i < trace.TimesSeconds.Length; i++)
        {
            if (!double.IsFinite(trace.ForcesNewtons[i]) || !double.IsFinite(trace.TimesSeconds[i])) continue;
            int position = trace.PositionsMillimetres is { } positions ? Whole(positions[i] * perMillimetre) : 0;
            samples.Add(new RawSample(i, (long)Math.Round((trace.TimesSeconds[i] - trace.TimesSeconds[0]) * 1e6),
                Whole(trace.ForcesNewtons[i] / step), position));
        }

        if (samples.Count == 0) throw new RefusalException(CoreText.NoSampleKept);
        double interval = reading.SampleRateHertz is { } rate and > 0 ? 1 / rate : 0;
        return new PullRecord
        {
            Head = new PullHead
            {
                RunId = Guid.CreateVersion7(at).ToString(),
                StudyId = studyId,
                SpecimenId = specimenId,
                SequenceId = "",
                CalibrationId = claim.Id,
                StartedAt = at,
                Settings = new PullSettings { Detection = detection },
                Device = new RigDevice(DeviceId, source.File, 0, Simulated: false),
                // For pictures; the reading finds its zero itself, again each time.
                ZeroCounts = (reading.ZeroNewtons ?? 0) / step,
                NoiseCounts = (reading.NoiseNewtons ?? 0) / step,
                IntervalSeconds = interval,
                StepsPerMillimetre = trace.PositionsMillimetres is null ? null : perMillimetre,
                Recording = source,
            },
            Ending = reading.Ending,
            Reason = Sentence.None,
            EndedAt = at,
            Trace = new RawTrace
            {
                Samples = samples,
                IntervalSeconds = interval,
                StepsPerMillimetre = trace.PositionsMillimetres is null ? null : perMillimetre
            },
        };
    }

    private static int Whole(double steps) => double.IsFinite(steps) && Math.Abs(steps) <= int.MaxValue ? (int)Math.Round(steps)
        : throw new RefusalException(CoreText.RecordedTooGreat);
}
