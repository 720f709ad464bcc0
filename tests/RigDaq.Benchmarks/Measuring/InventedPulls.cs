using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.Benchmarks.Measuring;

/// <summary>Invented pulls of any length: still, loaded along a bent line, broken at once, still again; noise throughout.</summary>
internal static class InventedPulls
{
    public const string StudyId = "bench";
    private const double PeakNewtons = 480;
    private const double StillShare = 0.05;
    private const double NoiseCounts = 30;
    private const double PullSeconds = 30;
    private const double StepsASecond = 400;

    /// <summary>Samples of a pull of 30 s.</summary>
    public static RawSample[] Samples(int count, int seed)
    {
        var random = new Random(seed);
        double interval = PullSeconds / count * 1e6;
        int still = (int)(count * StillShare), broken = count - still;
        var samples = new RawSample[count];
        for (int i = 0; i < count; i++)
        {
            double share = (i - still) / (double)(broken - still);
            double loaded = share is < 0 or > 1 ? 0 : Math.Sin(share * Math.PI * .42) / Math.Sin(Math.PI * .42);
            double counts = WorkshopCalibration.ZeroCounts + (loaded * PeakNewtons / WorkshopCalibration.NewtonsPerCount)
                + (WorkshopCalibration.Normal(random) * NoiseCounts);
            samples[i] = new RawSample(i, (long)(i * interval), (int)Math.Round(counts),
                (int)(Math.Clamp(share, 0, 1) * PullSeconds * StepsASecond));
        }

        return samples;
    }

    /// <summary>A pull as a rig would record it.</summary>
    public static PullRecord Pull(int number, RawSample[] samples)
    {
        double interval = PullSeconds / samples.Length;
        DateTimeOffset at = PulledStudy.Start.AddMinutes(number);
        return new PullRecord
        {
            Head = new PullHead
            {
                RunId = $"0193a3a0-0000-7000-8000-{number:d12}",
                StudyId = StudyId,
                SpecimenId = $"S{number}",
                SequenceId = "night",
                CalibrationId = WorkshopCalibration.Id,
                StartedAt = at,
                Settings = new PullSettings { SpeedMillimetresPerSecond = 0.25 },
                Device = new RigDevice(WorkshopCalibration.DeviceId, "virtual rig", 1, true),
                ZeroCounts = WorkshopCalibration.ZeroCounts,
                NoiseCounts = NoiseCounts,
                IntervalSeconds = interval,
                StepsPerMillimetre = 1600,
            },
            Ending = PullEnding.Broken,
            Reason = Sentence.None,
            EndedAt = at.AddSeconds(PullSeconds),
            Trace = new RawTrace { Samples = samples, IntervalSeconds = interval, StepsPerMillimetre = 1600 },
        };
    }
}
