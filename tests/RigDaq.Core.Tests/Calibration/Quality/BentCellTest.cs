using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using static RigDaq.Core.Tests.Calibration.Readings;

namespace RigDaq.Core.Tests.Calibration.Quality;

/// <summary>
/// A cell that bends as much as its data sheet admits, calibrated far below its full scale, misses by no more than the interval.
/// Non-linearity of the terminal line is the greatest distance of the curve from the straight line between its ends (common practice, no
/// source): here a parabola of depth e at mid-scale.
/// </summary>
public sealed class BentCellTest
{
    private const double FullScale = 1000;
    private const double CountsPerNewton = 1000;
    private const double Percent = 0.03;
    private const double Unloaded = 500;

    [Theory]
    [InlineData(false, 1.5, 900.0, 100.0, 200.0, 300.0, 400.0, 500.0)]
    [InlineData(false, 4.0, 900.0, 200.0, 400.0)]
    [InlineData(false, 1.5, 600.0, 10.0, 20.0, 50.0, 100.0, 200.0)]
    [InlineData(true, 2.0, 900.0, 100.0, 200.0, 300.0, 400.0, 500.0)]
    public void The_interval_holds_what_the_bend_does(bool constant, double most, double force, params double[] references)
    {
        IReadOnlyList<CalibrationReading> readings =
        [
            .. new[]
                { "1", "2", "3" }.SelectMany(series => new[]
                { Zero(series, Unloaded) }.Concat(references.Select(f => Up(series, f, Unloaded + Counts(f))))
                .Append(Zero(series, Unloaded))),
        ];
        var fit = CalibrationFit.Of(readings, new FitSettings { Constant = constant },
            new UncertaintyInputs { FullScaleNewtons = FullScale, NonLinearityPercent = Percent, TemperatureSpreadKelvin = 0 });

        double read = Polynomial.At(fit.Polynomial.Coefficients, constant, Counts(force) + (constant ? Unloaded : 0));
        var uncertainty = ForceUncertainty.Of(fit.Uncertainty, force);
        double missed = Math.Abs(read - force);
        Assert.True(missed > Percent / 100 * FullScale);

        // The cell stands at the very end of what its sheet admits, where two steps show no shape: the interval holds 95 of 100.
        Assert.InRange(missed, 0, uncertainty.ExpandedNewtons!.Value / 0.95);

        // An S of the same depth bends nearly eight times as much where it begins: references that do not tell them apart must allow for
        // it.
        Assert.InRange(uncertainty.ExpandedNewtons.Value, 0, most * missed);
    }

    /// <summary>
    /// Where hanging scatters the readings in proportion to their force, the line of least squares errs by Σx⁴/(Σx²)² of one reading's
    /// variance, and the best line by 1/n (Aitken 1935, the theorem of Gauss and Markov): what lies between is what the residuals show. At
    /// five even steps 0.618 is left.
    /// </summary>
    [Fact]
    public void What_the_residuals_show_of_the_fit_is_in_no_line_twice()
    {
        // No round figures: readings that come back on one grid are a coarse converter's.
        const double Rest = 500.37;
        double[] forces = [20, 40, 60, 80, 100];
        int[][] hung = [[1, -1, 1, -1, 0], [-1, 0, 1, 1, -1], [0, 1, -2, 0, 1]];
        IReadOnlyList<CalibrationReading> readings =
        [
            .. hung.SelectMany((signs, i) => new[] { Zero($"{i}", Rest) }
                .Concat(forces.Select((f, k) => Up($"{i}", f, Rest + (CountsPerNewton * f * (1 + (2.137e-3 * signs[k]))))))
                    .Append(Zero($"{i}", Rest))),
        ];
        var model = CalibrationFit.Of(readings, new FitSettings()).Uncertainty;
        var line = ForceUncertainty.Of(model, 50).Lines.Single(part => part.Kind == UncertaintyKind.Fit);
        double whole = model.ScatterCovariance[0][0] * Math.Pow(50 / model.Coefficients[0], 2);
        double squares = forces.Sum(f => f * f), best = 1 / 5.0 / (forces.Sum(f => Math.Pow(f, 4)) / (squares * squares));
        Assert.Equal(best, line.StandardNewtons * line.StandardNewtons / whole, 3);
    }

    private static double Counts(double force)
        => CountsPerNewton * (force + (Percent / 100 * FullScale * 4 * force * (FullScale - force) / (FullScale * FullScale)));
}
