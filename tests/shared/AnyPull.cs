using RigDaq.Core.Pulls;

namespace RigDaq.Tests.Shared;

/// <summary>The head of a pull of which a test says only what it is about: <c>AnyPull.Head with { … }</c>.</summary>
internal static class AnyPull
{
    public static readonly PullHead Head = new()
    {
        RunId = "run",
        StudyId = "study",
        SpecimenId = "specimen",
        SequenceId = "sequence",
        CalibrationId = "calibration",
        StartedAt = DateTimeOffset.UnixEpoch,
        Settings = new PullSettings(),
        Device = new RigDevice("0000000000000001", "bench", 1, Simulated: true),
        ZeroCounts = 0,
        NoiseCounts = 1,
        IntervalSeconds = 0.0125,
    };
}
