using RigDaq.Core.Signal;

namespace RigDaq.Core.Tests.Signal;

public sealed class SampleClockTest
{
    [Theory]
    [InlineData(60, 1)]
    [InlineData(-60, 2)]
    public void Stays_within_2_ms_over_a_day_with_a_crystal_that_is_off(double partsPerMillion, int seed)
    {
        var random = new Random(seed);
        var clock = new SampleClock();
        double worst = 0;
        int checkedPairs = 0;
        double arrivedLast = 0;

        // A block each 50 ms.
        const double BlockSeconds = 0.05;
        const double DaySeconds = 24 * 3600;
        for (double truth = 0; truth < DaySeconds; truth += BlockSeconds)
        {
            // One block in a hundred is lost, and once the link is down for two hours.
            if (random.NextDouble() < 0.01 || truth is > 30_000 and < 37_200) continue;
            double device = (truth * (1 + (partsPerMillion / 1e6))) + 4290;
            long stamp = (long)(device * 1e6);
            double late = 0.0003 - (0.0007 * Math.Log(1 - random.NextDouble()));
            if (random.NextDouble() < 0.03) late += 0.2 * random.NextDouble();
            if (truth % 3600 > 3580) late += 1.5 * random.NextDouble();

            // Packets of one link come in order.
            double arrived = Math.Max(truth + late, arrivedLast);
            arrivedLast = arrived;
            long host = (long)((arrived + 1_000_000) * 1e6);
            clock.Add(stamp, host);
            double error = (clock.HostMicroseconds(stamp) / 1e6) - 1_000_000 - truth;
            if (truth > 1) worst = Math.Max(worst, Math.Abs(error));
            checkedPairs++;
        }

        TestContext.Current.TestOutputHelper?.WriteLine($"worst {1000 * worst:F3} ms over {checkedPairs} blocks, {clock.DeviationPartsPerMillion:F2} ppm");
        Assert.InRange(worst, 0, 0.002);
        Assert.Equal(-partsPerMillion, clock.DeviationPartsPerMillion, 0.5);
        Assert.Equal(0, clock.Restarts);
    }

    [Fact]
    public void One_late_packet_moves_nothing()
    {
        var clock = new SampleClock();
        for (long t = 0; t < 60_000_000; t += 25_000) clock.Add(t, t + 1000);
        long before = clock.HostMicroseconds(61_000_000);
        clock.Add(60_000_000, 62_000_000);
        Assert.Equal(before, clock.HostMicroseconds(61_000_000));
    }

    [Fact]
    public void A_host_clock_that_was_set_is_followed()
    {
        var clock = new SampleClock();
        for (long t = 0; t < 600_000_000; t += 25_000) clock.Add(t, t + 1000);
        for (long t = 600_000_000; t < 680_000_000; t += 25_000) clock.Add(t, t + 10_001_000);
        for (long t = 680_000_000; t < 700_000_000; t += 25_000) clock.Add(t, t + 1000);
        Assert.Equal(2, clock.Restarts);
        Assert.InRange(clock.HostMicroseconds(700_000_000) - 700_001_000, -50, 50);
    }

    [Fact]
    public void Allocates_nothing_per_block()
    {
        long least = long.MaxValue;

        // The runtime now and then allocates for itself; what a block costs would show every time.
        for (int attempt = 0; attempt < 5; attempt++)
        {
            var clock = new SampleClock();
            clock.Add(0, 0);
            long before = GC.GetAllocatedBytesForCurrentThread();
            for (long t = 0; t < 100_000_000; t += 25_000) clock.Add(t, t + 1000);
            least = Math.Min(least, GC.GetAllocatedBytesForCurrentThread() - before);
        }

        Assert.Equal(0, least);
    }
}
