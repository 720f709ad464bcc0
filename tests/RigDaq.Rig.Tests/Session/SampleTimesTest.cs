using Microsoft.Extensions.Time.Testing;
using RigDaq.Rig.Session;

namespace RigDaq.Rig.Tests.Session;

/// <summary>The truth is the scripted clock itself: a sample's wall time is when the test had it taken.</summary>
public sealed class SampleTimesTest
{
    private static readonly DateTimeOffset Start = new(2026, 3, 1, 8, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_samples_wall_time_is_when_it_was_taken_though_packets_come_late()
    {
        var random = new Random(4);
        var time = new FakeTimeProvider(Start);
        var times = new SampleTimes(time);
        Assert.Null(times.WallTime(0));

        // Twenty minutes at a block every 50 ms; the crystal is 60 ppm slow; one packet in ten is up to 400 ms late, one in a hundred 2 s.
        double worst = 0;
        for (int block = 1; block <= 24_000; block++)
        {
            double taken = block * 0.05;
            long stamp = (long)(taken * (1 - 60e-6) * 1e6);
            double late = block % 100 == 0 ? 2 : random.Next(10) == 0 ? 0.4 * random.NextDouble() : 0.001 + (0.002 * random.NextDouble());
            TimeSpan to = TimeSpan.FromSeconds(taken + late) - (time.GetUtcNow() - Start);
            if (to > TimeSpan.Zero) time.Advance(to);
            times.Add(stamp, time.GetTimestamp());
            if (taken < 60) continue;
            DateTimeOffset truth = Start + TimeSpan.FromSeconds(taken);
            worst = Math.Max(worst, Math.Abs((times.WallTime(stamp)!.Value - truth).TotalMilliseconds));
        }

        // The limit for the clock is 2 ms; the promptest packets took a millisecond.
        Assert.InRange(worst, 0, 2.5);
        Assert.Equal(60, times.DeviationPartsPerMillion, 5.0);
        TestContext.Current.TestOutputHelper!.WriteLine($"off by {worst:F2} ms at worst");
    }

    [Fact]
    public void A_device_whose_clock_runs_forty_times_faster_is_timed_by_arrivals()
    {
        var time = new FakeTimeProvider(Start);
        var times = new SampleTimes(time);
        for (int block = 1; block <= 400; block++)
        {
            time.Advance(TimeSpan.FromMilliseconds(50));
            times.Add(block * 2_000_000L, time.GetTimestamp());
            Assert.InRange(times.Age(block * 2_000_000L)!.Value.TotalSeconds, 0, 0.001);
        }
    }

    [Fact]
    public void Nothing_is_allocated_a_block()
    {
        var times = new SampleTimes(TimeProvider.System);
        long at = TimeProvider.System.GetTimestamp();
        for (int i = 0; i < 10_000; i++) times.Add(i * 50_000L, at + (i * TimeProvider.System.TimestampFrequency / 20));

        // The runtime now and then allocates for itself; what a block costs would show every time.
        long least = long.MaxValue;
        for (int round = 0; round < 5; round++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            for (int i = 10_000; i < 20_000; i++)
            {
                times.Add(i * 50_000L, at + (i * TimeProvider.System.TimestampFrequency / 20));
                _ = times.Age(i * 50_000L);
            }

            least = Math.Min(least, GC.GetAllocatedBytesForCurrentThread() - before);
        }

        Assert.Equal(0, least);
    }
}
