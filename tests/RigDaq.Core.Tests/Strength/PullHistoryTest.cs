using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Strength;

public sealed class PullHistoryTest
{
    private static readonly PullHead Head = new()
    {
        RunId = "r",
        StudyId = "s",
        SpecimenId = "A",
        SequenceId = "q",
        CalibrationId = "c",
        StartedAt = DateTimeOffset.UnixEpoch,
        Settings = new PullSettings(),
        Device = new RigDevice("d", "n", 1, true),
        ZeroCounts = 0,
        NoiseCounts = 1,
        IntervalSeconds = 0.0125,
        ZeroAgeSeconds = 20,
    };

    [Fact]
    public void A_zero_taken_for_this_pull_of_a_specimen_never_pulled_needs_no_word() => Assert.Empty(PullHistory.Warnings(Head));

    [Fact]
    public void A_zero_that_stood_an_old_zero_and_an_earlier_pull_are_said()
    {
        Assert.Contains("one pull had begun with it before, and it was 95 s old",
            Assert.Single(PullHistory.Warnings(Head with { PullsSinceZero = 1, ZeroAgeSeconds = 95 })));
        Assert.Contains("3 pulls had", Assert.Single(PullHistory.Warnings(Head with { PullsSinceZero = 3, ZeroAgeSeconds = null })));
        Assert.Contains("was 40 min old", Assert.Single(PullHistory.Warnings(Head with { ZeroAgeSeconds = 2400 })));
        Assert.Contains("pull this specimen once before", Assert.Single(PullHistory.Warnings(Head with { EarlierPulls = 1 })));
    }

    [Fact]
    public void The_run_says_it()
    {
        var pull = new PullRecord
        {
            Head = Head with { EarlierPulls = 2 },
            Ending = PullEnding.Stopped,
            Reason = Sentence.None,
            EndedAt = DateTimeOffset.UnixEpoch,
            Trace = new RigDaq.Core.Signal.RawTrace { Samples = [], IntervalSeconds = 0.0125 },
        };
        Assert.Contains(PullAnalysis.Read(pull, new RigDaq.Core.Calibration.Fitting.ForceCurve([1e-3])).Reading.Warnings,
            w => w.AsKept().Contains("2 times before", StringComparison.Ordinal));
    }
}
