using System.Text.Json;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;

namespace RigDaq.EndToEnd.Tests.Replay;

/// <summary>
/// The runs of tests/corpus/recorded, sent again by a device over the wire through the whole daemon. What the archive then holds has
/// to read as it did; where it does not, both readings are shown.
/// </summary>
public sealed class RecordedRunsTest
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "recorded");

    public static TheoryData<string> Names
        => [.. Directory.GetFiles(Folder, "*.csv").Select(path => Path.GetFileNameWithoutExtension(path)).Order(StringComparer.Ordinal)];

    [Fact]
    public void Hold_a_handful_of_different_endings_and_rates()
    {
        RecordedHead[] heads = [.. Names.Select(row => RecordedHead.Read(Path.Combine(Folder, row.Data + ".json")))];
        Assert.InRange(heads.Length, 6, 12);
        Assert.True(heads.Select(head => head.Expected.Ending).Distinct().Count() >= 4);
        Assert.True(heads.Select(head => Math.Round(1 / head.IntervalSeconds)).Distinct().Count() >= 3);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Read_as_they_did_through_the_whole_daemon(string name)
    {
        RecordedRun recorded = RecordedRun.Read(Folder, name);
        await using var device = new ReplayDevice(recorded);
        (Run run, PullRecord pull, _) = await WholeDaemon.PullOnceAsync(
            device.Link, recorded.Head.NewtonsPerCount, recorded.Head.NoiseCounts,
                Recordings.Settings(recorded.Head.TravelLimitMillimetres));
        RecordedReading actual = RecordedReading.Of(run);
        Assert.True(
            Same(recorded.Head, actual, run.Reading?.ZeroDriftNewtons ?? 0),
            $"{name} was {JsonSerializer.Serialize(recorded.Head.Expected)}\nnow {JsonSerializer.Serialize(actual)}");
        AssertHoldsEverySample(recorded, pull);
        Assert.NotNull(pull.FirstSampleAt);
    }

    /// <summary>
    /// Endings and counts of things exactly. Forces within a tenth of the noise's σ and what the zero moves by, because the zero is
    /// taken anew from stillness that was not recorded: the noise of one conversion over the number that it is taken from. The peak also
    /// rests on the noise that was seen with that zero, through the stretch that it is fitted to: a quarter σ, and a little of what was
    /// added to the greatest sample for the unseen end of a sudden break's last interval.
    /// </summary>
    private static bool Same(RecordedHead head, RecordedReading now, double drift)
    {
        RecordedReading was = head.Expected;
        double noise = head.NoiseCounts * head.NewtonsPerCount;
        // The recording ends a little beside its zero: now and then that counts as a drift, which is taken off along a line.
        if (Math.Abs(drift) > noise) return false;
        double sample = (noise / 10) + (2 * noise * head.IntervalSeconds / Recordings.ZeroSeconds) + Math.Abs(drift);
        double added = Math.Abs((was.PeakForceNewtons ?? 0) - (was.RawPeakForceNewtons ?? 0));
        // Without a fall the greatest force rests on the stillness around it, which is not the recorded one and lasts as wall time has it.
        bool still = was.Ending == PullEnding.NoContact.Word() || was.Ending == PullEnding.Unbroken.Word();
        double peak = still ? noise : sample + (noise / 4) + (0.005 * added);
        return was.Ending == now.Ending && was.LoadDrops == now.LoadDrops && was.SpikesRemoved == now.SpikesRemoved
            && Near(was.PeakForceNewtons, now.PeakForceNewtons, peak)
            && Near(was.RawPeakForceNewtons, now.RawPeakForceNewtons, still ? noise : sample)
            && Near(was.BreakForceNewtons, now.BreakForceNewtons, sample);
    }

    private static bool Near(double? a, double? b, double within) =>
        a is { } left && b is { } right ? Math.Abs(left - right) <= within : a is null && b is null;

    /// <summary>From the first step of the crosshead to its last, the stored trace is the recorded one, conversion by conversion.</summary>
    private static void AssertHoldsEverySample(RecordedRun recorded, PullRecord pull)
    {
        int firstOfRecorded = FirstMoved(recorded.Samples);
        int firstOfStored = FirstMoved(pull.Trace.Samples);
        int lastMoved = recorded.Samples.Count - 1;
        while (recorded.Samples[lastMoved].CrossheadSteps == recorded.Samples[lastMoved - 1].CrossheadSteps) lastMoved--;
        for (int i = firstOfRecorded; i <= lastMoved; i++)
        {
            RawSample sent = recorded.Samples[i];
            RawSample kept = pull.Trace.Samples[firstOfStored + i - firstOfRecorded];
            Assert.Equal((sent.Counts, sent.CrossheadSteps), (kept.Counts, kept.CrossheadSteps));
            Assert.Equal(sent.Number - recorded.Samples[firstOfRecorded].Number, kept.Number - pull.Trace.Samples[firstOfStored].Number);
            Assert.InRange(
                kept.DeviceMicroseconds - pull.Trace.Samples[firstOfStored].DeviceMicroseconds
                    - (sent.DeviceMicroseconds - recorded.Samples[firstOfRecorded].DeviceMicroseconds),
                -4, 4);
        }
    }

    private static int FirstMoved(IReadOnlyList<RawSample> samples)
    {
        int i = 1;
        while (samples[i].CrossheadSteps == samples[i - 1].CrossheadSteps) i++;
        return i;
    }
}
