using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Session;

namespace RigDaq.Rig.Tests.Control;

public sealed class LimitsMakerTest
{
    private static readonly HelloMessage Hello = new()
    {
        StepsPerMetre = 400_000,
        HardForceCountsMin = -4_000_000,
        HardForceCountsMax = 4_000_000,
        HardTravelStepsMin = 0,
        HardTravelStepsMax = 60_000,
        HardSpeedStepsPerSecondMax = 8_000,
        HardAccelerationStepsPerSecondSquaredMax = 40_000,
    };

    private static readonly ForceCurve Line = new([2.5e-4]);

    [Fact]
    public void Limits_come_out_in_absolute_counts_about_the_zero()
    {
        // 900 N / 2.5e-4 N per count = 3,600,000 counts, -50 N = -200,000 counts; both about the zero of 40,000.
        (var limits, string words) = LimitsMaker.Make(Hello, new PullSettings(), (Line, 40_000), (10, 30));
        Assert.Equal("", words);
        Assert.Equal(3_640_000, limits!.ForceCountsMax);
        Assert.Equal(-160_000, limits.ForceCountsMin);
        Assert.Equal((9 * 400, 31 * 400), (limits.TravelStepsMin, limits.TravelStepsMax));
    }

    [Fact]
    public void A_limit_that_the_device_does_not_allow_is_refused_with_what_it_does_allow()
    {
        (var limits, string words) = LimitsMaker.Make(
            Hello, new PullSettings { ForceLimitNewtons = 1200, ReturnSpeedMillimetresPerSecond = 25 }, (Line, 40_000), null);
        Assert.Null(limits);
        Assert.Contains("990 N", words);
        Assert.Contains("20 mm/s", words);
    }

    /// <summary>
    /// The sum of docs/build-a-rig.md: stiffness × speed × 2 / rate, and what a review measured on the image: at 5 mm/s into 500 N/mm,
    /// limit 192 N, the force ended at 559 N at 10/s and 246 N at 80/s. The bound lies above both.
    /// </summary>
    [Theory]
    [InlineData(10_000u, 50_000u, 559)]
    [InlineData(80_000u, 6_250u, 246)]
    public void The_bound_of_a_stop_lies_above_what_was_measured_and_not_far(uint rate, uint delay, double measured)
    {
        HelloMessage hello = Hello with { ConverterRateMillihertz = rate, ConverterDelayMicroseconds = delay };
        double bound = 192 + StopOvershoot.Newtons(hello, 500, 5);
        Assert.InRange(bound, measured, 192 + (2.5 * (measured - 192)));
    }

    [Fact]
    public void A_motion_whose_stop_would_end_beyond_the_cell_is_refused_with_the_speed_that_would_do()
    {
        // 4,000,000 counts of 2.5e-4 N are 1,000 N; (2/80 + 0.00625 + 0.005) s × 500 N/mm are 18.125 N for each mm/s.
        HelloMessage hello = Hello with { ConverterRateMillihertz = 80_000, ConverterDelayMicroseconds = 6_250 };
        var settings = new PullSettings
        {
            ForceLimitNewtons = 900,
            SpeedMillimetresPerSecond = 6,
            SlackSpeedMillimetresPerSecond = 6,
            ReturnSpeedMillimetresPerSecond = 6
        };
        (DeviceLimits? limits, string words) = LimitsMaker.Make(hello, settings, (Line, 0), null, stiffness: 500);
        Assert.Null(limits);
        Assert.Contains("108.8 N", words, StringComparison.Ordinal);
        Assert.Contains("5.517 mm/s would do", words, StringComparison.Ordinal);
        Assert.NotNull(LimitsMaker.Make(hello, settings with { SpeedMillimetresPerSecond = 5.5, SlackSpeedMillimetresPerSecond = 5.5 },
            (Line, 0), null, stiffness: 500).Limits);
        Assert.NotNull(LimitsMaker.Make(hello, settings, (Line, 0), null).Limits); // nobody said how stiff it is
    }

    /// <summary>
    /// A converter that looks later than it says (`serial.converterDelaySeconds`): the stop comes so much later. (2/80 + 0.02 + 0.005) s ×
    /// 500 N/mm are 25 N for each mm/s. Shorter than the device says is taken for the peak, never for a stop.
    /// </summary>
    [Theory]
    [InlineData(null, "5.517")]
    [InlineData(0.02, "4 mm/s")]
    [InlineData(0.001, "5.517")]
    public void A_delay_by_configuration_makes_the_stop_later_and_never_earlier(double? configured, string wouldDo)
    {
        HelloMessage hello = Hello with { ConverterRateMillihertz = 80_000, ConverterDelayMicroseconds = 6_250 };
        var settings = new PullSettings
        {
            ForceLimitNewtons = 900,
            SpeedMillimetresPerSecond = 6,
            SlackSpeedMillimetresPerSecond = 6,
            ReturnSpeedMillimetresPerSecond = 6
        };
        (DeviceLimits? limits, string words) = LimitsMaker.Make(hello, settings, (Line, 0), null, stiffness: 500,
            converterDelaySeconds: configured);
        Assert.Null(limits);
        Assert.Contains(wouldDo, words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_compression_limit_that_the_curve_never_reaches_is_refused_rather_than_made_a_window_without_width()
    {
        // In compression it bends back at a1²/(4·a2) = 15.6 N, in tension it goes on rising.
        var bent = new ForceCurve([2.5e-4, 1e-9]);
        (var limits, string words) = LimitsMaker.Make(Hello, new PullSettings(), (bent, 0), null);
        Assert.Null(limits);
        Assert.Contains("-50 N", words);
        (limits, words) = LimitsMaker.Make(Hello, new PullSettings { CompressionLimitNewtons = 10 }, (bent, 0), null);
        Assert.Equal("", words);
        Assert.True(limits!.ForceCountsMin < 0 && limits.ForceCountsMax > 0);
    }

    [Theory]
    [InlineData(2.5e-4, 0)]
    [InlineData(-3.1e-4, 0)]
    [InlineData(2.5e-4, 1e-12)]
    public void The_inverse_of_the_curve_is_its_inverse(double slope, double square)
    {
        var curve = new ForceCurve([slope, square]);
        foreach (double newtons in new[] { -50.0, -1, 0, 2, 900 })
            Assert.Equal(newtons, curve.Newtons(LimitsMaker.DeflectionCounts(curve, newtons)!.Value), 6);
    }

    [Fact]
    public void A_curve_that_bends_back_before_the_limit_gives_no_limit_rather_than_a_wrong_one()
    {
        // Greatest force a1²/(4·|a2|) = 156 N: 900 N is never reached.
        var bent = new ForceCurve([2.5e-4, -1e-10]);
        Assert.Null(LimitsMaker.DeflectionCounts(bent, 900));
        Assert.Null(LimitsMaker.Make(Hello, new PullSettings(), (bent, 0), null).Limits);
    }
}
