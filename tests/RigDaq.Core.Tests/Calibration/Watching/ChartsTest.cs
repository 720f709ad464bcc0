using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Calibration.Watching;

public sealed class ChartsTest
{
    private static readonly DateTimeOffset Day = new(2026, 3, 1, 8, 0, 0, TimeSpan.Zero);

    // NIST/SEMATECH e-Handbook 6.3.2.2, flow rates: mean 50.81, mean moving range 1.8778, limits 55.8041 and 45.8159 (from memory,
    // recomputed).
    [Fact]
    public void Repeats_the_handbooks_individuals_chart()
    {
        var chart = IndividualsChart.Of([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]);
        Assert.Equal(50.81, chart.Centre, 10);
        Assert.Equal(1.8778, chart.Sigma * IndividualsChart.RangeOfTwo, 4);
        Assert.Equal(55.8041, chart.Upper, 3);
        Assert.Equal(45.8159, chart.Lower, 3);
    }

    // Shewhart constants (ASTM E2587): d₂ of two is 2/√π = 1.1284; the limits lie 2.660 mean moving ranges from the centre.
    [Fact]
    public void Uses_the_published_constants()
    {
        Assert.Equal(IndividualsChart.RangeOfTwo, 2 / Math.Sqrt(Math.PI), 3);
        var chart = IndividualsChart.Of([0, 1, 0, 1]);
        Assert.Equal(2.660, chart.Upper - chart.Centre, 3);
    }

    // NIST/SEMATECH e-Handbook 6.3.2.4: λ = 0.3, centre 50, s = 2.0539; limits 52.5884 and 47.4115, averages 50.60 … 51.99 (from memory,
    // recomputed).
    [Fact]
    public void Repeats_the_handbooks_moving_average()
    {
        double[] values = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6,
            52.1];
        double[] published = [50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
            49.92, 50.73, 51.23, 51.94, 51.99];
        var chart = new EwmaChart(50, 2.0539) { Lambda = 0.3 };
        Assert.Equal(published, chart.Averages(values).Select(average => Math.Round(average, 2, MidpointRounding.AwayFromZero)));
        Assert.Equal(2.5884, chart.HalfWidth(1000), 3);
    }

    [Fact]
    public void Has_no_chart_before_thirty_readings_but_sees_a_gross_error_at_once()
    {
        var early = Judge(Readings(12, _ => 0.002));
        Assert.Equal(CheckWeightVerdict.Baseline, early.Verdict);
        Assert.Null(early.Individuals);
        Assert.False(early.AsksForCalibration);
        var gross = Judge(Readings(3, i => i == 2 ? 0.2 : 0));
        Assert.True(gross.AsksForCalibration);
        Assert.Contains("calibrate again", gross.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Asks_for_a_calibration_after_one_wild_reading()
    {
        Assert.Equal(CheckWeightVerdict.Within, Judge(Readings(40, i => Wobble(i))).Verdict);
        var wild = Judge(Readings(41, i => i == 40 ? 0.05 : Wobble(i)));
        Assert.True(wild.AsksForCalibration);
        Assert.Contains("outside", wild.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Sees_a_small_lasting_shift_that_no_single_reading_shows()
    {
        double sigma = Judge(Readings(40, i => Wobble(i))).Individuals!.Sigma;
        var shifted = Judge(Readings(60, i => Wobble(i) + (i >= 30 ? 1.2 * sigma : 0)));
        Assert.True(shifted.AsksForCalibration);
        Assert.Contains("has shifted", shifted.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Begins_anew_under_a_new_calibration()
    {
        var readings = Readings(40, i => Wobble(i)).Append(new CheckWeightReading(Day.AddDays(50), 49.1, "new"));
        Assert.Equal(CheckWeightVerdict.Baseline, CheckWeight.Of(readings, "new", 49.05, 0.001, 0.1).Verdict);
        Assert.Equal(CheckWeightVerdict.NotRead, CheckWeight.Of(readings, "other", 49.05, 0.001, 0.1).Verdict);
    }

    // measurement facts behind the thirty: how often charts from a baseline of ten and of thirty normal readings cry wolf, by simulation.
    [Fact]
    public void A_short_baseline_would_cry_wolf()
    {
        var random = new Random(11);
        double ten = FalseAlarms(10), thirty = FalseAlarms(30);
        Assert.True(ten > 1.5 * thirty, $"{ten:0.0000} against {thirty:0.0000}");
        Assert.InRange(thirty, 0, 0.03);

        double FalseAlarms(int baseline)
        {
            int alarms = 0, all = 0;
            for (int rig = 0; rig < 2000; rig++)
            {
                var chart = IndividualsChart.Of([.. Enumerable.Range(0, baseline).Select(_ => Normal())]);
                var ewma = new EwmaChart(chart.Centre, chart.Sigma);
                double[] values = [.. Enumerable.Range(0, 30).Select(_ => Normal())];
                var averages = ewma.Averages(values);
                for (int i = 0; i < values.Length; i++, all++)
                {
                    if (values[i] > chart.Upper || values[i] < chart.Lower
                        || Math.Abs(averages[i] - chart.Centre) > ewma.HalfWidth(i + 1)) alarms++;
                }
            }

            return (double)alarms / all;
        }

        double Normal() => MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1);
    }

    private static double Wobble(int i) => 0.01 * Math.Sin(i * 2.4);

    private static CheckWeight Judge(IEnumerable<CheckWeightReading> readings) => CheckWeight.Of(readings, "cal", 49.05, 0.001, 0.1);

    private static IEnumerable<CheckWeightReading> Readings(int count, Func<int, double> off) =>
        Enumerable.Range(0, count).Select(i => new CheckWeightReading(Day.AddDays(i), 49.05 + off(i), "cal"));
}
