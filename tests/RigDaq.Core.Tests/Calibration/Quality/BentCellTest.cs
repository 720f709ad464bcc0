using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using static RigDaq.Core.Tests.Calibration.Readings;

namespace RigDaq.Core.Tests.Calibration.Quality;

/// <summary>
/// A cell that bends as much as its data sheet admits, calibrated far below its full scale, misses by the allowance and no more. Non-linearity of
/// the terminal line is the greatest distance of the curve from the straight line between its ends (common practice, no source): here a parabola
/// of depth e at mid-scale.
/// </summary>
public sealed class BentCellTest
{
    private const double FullScale = 1000;
    private const double CountsPerNewton = 1000;
    private const double Percent = 0.03;
    private const double Unloaded = 500;

    [Theory]
    [InlineData(false, 900.0, 100.0, 200.0, 300.0, 400.0, 500.0)]
    [InlineData(false, 900.0, 200.0, 400.0)]
    [InlineData(false, 600.0, 10.0, 20.0, 50.0, 100.0, 200.0)]
    [InlineData(true, 900.0, 100.0, 200.0, 300.0, 400.0, 500.0)]
    public void The_allowance_is_what_the_bend_does(bool constant, double force, params double[] references)
    {
        IReadOnlyList<CalibrationReading> readings =
        [
            .. new[] { "1", "2", "3" }.SelectMany(series => new[] { Zero(series, Unloaded) }.Concat(references.Select(f => Up(series, f, Unloaded + Counts(f)))).Append(Zero(series, Unloaded))),
        ];
        var fit = CalibrationFit.Of(readings, new FitSettings { Constant = constant }, new UncertaintyInputs { FullScaleNewtons = FullScale, NonLinearityPercent = Percent });

        double read = Polynomial.At(fit.Polynomial.Coefficients, constant, Counts(force) + (constant ? Unloaded : 0));
        double halfWidth = Math.Sqrt(3) * ForceUncertainty.Of(fit.Uncertainty, force).Lines.Single(line => line.Kind == UncertaintyKind.Extrapolation).StandardNewtons;
        Assert.True(halfWidth > Percent / 100 * FullScale);
        // Equal but for the bend's own square.
        Assert.Equal(halfWidth, Math.Abs(read - force), 0.005 * halfWidth);
    }

    private static double Counts(double force) => CountsPerNewton * (force + (Percent / 100 * FullScale * 4 * force * (FullScale - force) / (FullScale * FullScale)));
}
