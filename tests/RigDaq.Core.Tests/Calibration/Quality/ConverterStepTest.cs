using System.Globalization;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using static RigDaq.Core.Tests.Calibration.Readings;

namespace RigDaq.Core.Tests.Calibration.Quality;

/// <summary>The converter's true step, found from what a calibration's table holds.</summary>
public sealed class ConverterStepTest
{
    private static readonly double[] Steps = [14.8, 29.6, 44.4, 59.2, 74];

    /// <summary>
    /// The zero stays, so that all series read the same few values; where a window saw two lines of the grid its mean lies between and is
    /// another each time. A converter whose every count flickers never reads a mean again.
    /// </summary>
    [Theory]
    [InlineData(64, 64)]
    [InlineData(128, 128)]
    [InlineData(1, 1)]
    public void Finds_a_step_that_all_series_read_alike(int step, double found)
    {
        var random = new Random(5);
        var readings = new List<CalibrationReading>();
        foreach (string series in new[] { "1", "2", "3" })
        {
            readings.Add(Zero(series, Read(40_013)));
            for (int i = 0; i < Steps.Length; i++) readings
                .Add(Up(series, Steps[i], i == 1 ? Between(Steps[i]) : Read(40_013 + (1873 * Steps[i])), 1e-3));
        }

        Assert.Equal(found, ConverterStep.Of(readings));

        double Read(double counts) => step > 1 ? Math.Round(counts / step) * step : counts + random.NextDouble();
        double Between(double force) => 40_013 + (1873 * force) + (20 * random.NextDouble());
    }

    /// <summary>
    /// Two tables of <c>tools/uncertainty/heldout.py</c> (rounded to 64; cut off in 128 with the zeros' ranges): equal steps of load make
    /// equal differences of what comes back exactly, and the differences alone have divisors of all sizes (55,424 is 128 times 433).
    /// </summary>
    [Theory]
    [InlineData(64.0, 0.0,
        38592.0, 66304.0, 94016.0, 121728.0, 149440.0, 177154.133, 38592.0, 66304.0, 94016.0, 121728.0, 149440.533, 177152.0)]
    [InlineData(64.0, 0.0,
        41472.0, 69184.0, 96896.0, 124611.2, 152357.867, 180095.467, 41472.0, 69184.0, 96896.0, 124612.267, 152358.933, 180096.0)]
    [InlineData(128.0, 128.0,
        39047.4667, 66816.0, 94539.7333, 122240.0, 150007.467, 177664.0, 39057.0667, 66816.0, 94549.3333, 122240.0, 150009.6, 177664.0)]
    public void Finds_a_step_that_equal_steps_of_load_hide(double found, double range, params double[] counts) =>
        Assert.Equal(found, ConverterStep.Of([.. counts.Select((value, i) => i % 6 == 0
            ? Zero(i.ToString(CultureInfo.InvariantCulture), value, range > 0 ? range : null)
            : Up("1", Steps[(i % 6) - 1], value, 1e-3))]));
}
