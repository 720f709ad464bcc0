using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Tests;

/// <summary>Records hold lists, so they are compared as the text they are stored as.</summary>
internal static class Same
{
    public static void Records<T>(T expected, T actual) => Assert.Equal(RecordText.Of(expected), RecordText.Of(actual));

    public static void Pulls(PullRecord expected, PullRecord? actual)
    {
        Assert.NotNull(actual);
        Assert.Equal(expected.Trace.Samples, actual.Trace.Samples);
        Assert.Equal(expected.Trace.Channels.Select(channel => channel.Index), actual.Trace.Channels.Select(channel => channel.Index));
        foreach ((Core.Signal.ChannelTrace channel, Core.Signal.ChannelTrace kept) in expected.Trace.Channels
            .Zip(actual.Trace.Channels)) Assert.Equal(channel.Samples, kept.Samples);
        Assert.Equal(RecordText.WithoutSamples(expected), RecordText.WithoutSamples(actual));
    }

    public static void Versions(RigArchive expected, RigArchive actual, string study) =>
        Assert.Equal(expected.Studies.Versions(study).Select(InWords), actual.Studies.Versions(study).Select(InWords));

    private static (DateTimeOffset, string, string) InWords(Core.Specimens.StudyVersion version) =>
        (version.At, version.Reason, RecordText.Of(version.Study));

    public static void Runs(RigArchive expected, RigArchive actual)
    {
        Assert.Equal(expected.Studies.All().Select(RecordText.Of), actual.Studies.All().Select(RecordText.Of));
        Assert.Equal(expected.Calibrations.OfDevice("00112233445566aa").Select(RecordText.Of),
            actual.Calibrations.OfDevice("00112233445566aa").Select(RecordText.Of));
        IReadOnlyList<Run> runs = expected.Runs.Latest(int.MaxValue);
        Assert.Equal(runs.Select(RecordText.Of), actual.Runs.Latest(int.MaxValue).Select(RecordText.Of));
        foreach (string runId in runs.Select(run => run.Head.RunId))
        {
            Assert.Equal(expected.Runs.Revisions(runId).Select(RecordText.Of), actual.Runs.Revisions(runId).Select(RecordText.Of));
            Pulls(expected.Runs.FindPull(runId)!, actual.Runs.FindPull(runId));
        }
    }
}
