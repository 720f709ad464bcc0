using RigDaq.Rig.PlainDevices;

namespace RigDaq.Rig.Tests.PlainDevices;

public sealed class ClocksTest
{
    [Fact]
    public void Stamps_of_lines_that_come_in_bursts_are_spread_and_the_jitter_is_told()
    {
        var clock = new ArrivalClock();
        var random = new Random(7);
        double worst = 0;
        for (int i = 0; i < 4_000; i++)
        {
            // 80 lines/s, handed over every 16 ms: a common adapter's latency timer.
            long true_ = 1_000_000 + (i * 12_500L);
            long arrived = (true_ / 16_000 * 16_000) + 16_000 + random.Next(300);
            long stamp = clock.Stamp(arrived);
            if (i > 400) worst = Math.Max(worst, Math.Abs(stamp - true_ - 8_000));
        }

        Assert.Equal(12_500, clock.PeriodMicroseconds!.Value, 60.0);
        // Uniform over 16 ms: 16/√12 = 4.6 ms.
        Assert.InRange(clock.JitterMicroseconds!.Value, 3_500, 6_000);
        Assert.True(worst < 10_000, $"off by {worst} µs");
    }

    [Fact]
    public void Stamps_rise_and_follow_a_gap()
    {
        var clock = new ArrivalClock();
        long last = long.MinValue;
        for (int i = 0; i < 400; i++)
        {
            long arrived = (i * 10_000L) + (i >= 200 ? 300_000 : 0);
            long stamp = clock.Stamp(arrived);
            Assert.True(stamp > last);
            Assert.True(stamp <= Math.Max(arrived, last + 1));
            last = stamp;
        }

        // Thirty devices' readings were missing: after some tens of lines the stamps have caught up.
        Assert.Equal(399 * 10_000L + 300_000, last, 12_000.0);
    }

    [Fact]
    public void A_printed_count_of_milliseconds_wraps_and_goes_on()
    {
        var clock = new PrintedClock(LineTimeUnit.Milliseconds);
        Assert.Equal(PrintedTime.Good, clock.Take(4_294_967_290, 0, 0, out long first));
        Assert.Equal(PrintedTime.Good, clock.Take(4, 0, 10_000, out long second));
        Assert.Equal(10_000, second - first);
    }

    [Fact]
    public void A_single_odd_time_is_a_damaged_line_and_three_that_agree_are_a_restart()
    {
        var clock = new PrintedClock(LineTimeUnit.Microseconds);
        Assert.Equal(PrintedTime.Good, clock.Take(500_000_000, 0, 0, out _));
        Assert.Equal(PrintedTime.Implausible, clock.Take(50_001, 0, 10_000, out _));
        Assert.Equal(PrintedTime.Good, clock.Take(500_020_000, 0, 20_000, out _));
        Assert.Equal(PrintedTime.Implausible, clock.Take(1_000, 0, 30_000, out _));
        Assert.Equal(PrintedTime.Implausible, clock.Take(11_000, 0, 40_000, out _));
        Assert.Equal(PrintedTime.Restarted, clock.Take(21_000, 0, 50_000, out long now));
        Assert.Equal(21_000, now);
    }
}
