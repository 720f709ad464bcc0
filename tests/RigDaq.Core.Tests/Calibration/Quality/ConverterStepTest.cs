using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using static RigDaq.Core.Tests.Calibration.Readings;

namespace RigDaq.Core.Tests.Calibration.Quality;

/// <summary>The converter's true step, found from what a calibration's table holds.</summary>
public sealed class ConverterStepTest
{
    private static readonly double[] Steps = [14.8, 29.6, 44.4, 59.2, 74];

    /// <summary>
    /// The zero stays, so that all series read the same few values; where a window saw two lines of the grid its mean lies between and is another each time.
    /// A converter whose every count flickers never reads a mean again.
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
            for (int i = 0; i < Steps.Length; i++) readings.Add(Up(series, Steps[i], i == 1 ? Between(Steps[i]) : Read(40_013 + (1873 * Steps[i])), 1e-3));
        }

        Assert.Equal(found, ConverterStep.Of(readings));

        double Read(double counts) => step > 1 ? Math.Round(counts / step) * step : counts + random.NextDouble();
        double Between(double force) => 40_013 + (1873 * force) + (20 * random.NextDouble());
    }
}
