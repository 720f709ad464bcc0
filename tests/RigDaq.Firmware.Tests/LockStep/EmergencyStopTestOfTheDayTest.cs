using RigDaq.Core.Safety;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Firmware.Tests.LockStep;

/// <summary>A rig whose motor is real starts no sequence before its emergency stop was tried that day; the test is kept
/// (docs/safety.md).</summary>
public sealed class EmergencyStopTestOfTheDayTest
{
    [Fact]
    public async Task A_sequence_waits_for_the_test_which_the_device_must_have_seen_and_which_is_kept()
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 1);
        Assert.True(daemon.Now.AsksForEmergencyStopTest);
        await daemon.DoAsync("hand-motion", new { cautionsRead = true, acceptBeyondCalibration = true });
        // it is tested in hand motion
        Assert.DoesNotContain(daemon.Now.ReasonsAgainstHandMotion, r => r.Code == "emergencyStopNotTested");

        (bool started, string words) = await daemon.AskAsync("start", new { cautionsRead = true });
        Assert.False(started);
        Assert.Contains("emergency stop has not been tested today", words, StringComparison.Ordinal);
        (started, words) = await daemon.AskAsync("start", new { cautionsRead = true, emergencyStopTested = true });
        Assert.False(started, "it took a person's word for what the device would have seen");
        Assert.Contains("has not seen the emergency stop pressed", words, StringComparison.Ordinal);
        string device = daemon.Now.Device!.Id;
        Assert.Empty(daemon.Host.Archive.Diary.EmergencyStopTests(device));

        await daemon.HomeAsync();
        await daemon.StartSequenceAsync();
        Assert.NotEqual(SequenceStage.Finished, daemon.Now.Sequence!.Stage);
        EmergencyStopTest test = await KeptAsync(daemon, device);
        Assert.Equal(daemon.Now.EmergencyStopTest, test);
        Assert.NotNull(test.SeenAt);
        Assert.InRange(test.At - test.SeenAt.Value, TimeSpan.Zero, TimeSpan.FromMinutes(2));
    }

    private static async Task<EmergencyStopTest> KeptAsync(LockStepDaemon daemon, string device)
    {
        // The archive is on a thread of its own.
        for (int i = 0; i < 1000 && daemon.Host.Archive.Diary.EmergencyStopTests(device).Count == 0; i++)
            await Task.Delay(5, TestContext.Current.CancellationToken);
        return Assert.Single(daemon.Host.Archive.Diary.EmergencyStopTests(device));
    }
}
