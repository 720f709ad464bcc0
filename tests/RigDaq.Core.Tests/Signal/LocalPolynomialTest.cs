using RigDaq.Core.Signal;

namespace RigDaq.Core.Tests.Signal;

public sealed class LocalPolynomialTest
{
    [Fact]
    public void Goes_through_a_parabola_exactly_at_uneven_times()
    {
        double[] times = [100, 100.1, 100.15, 100.4, 100.5, 100.9];
        double[] values = [.. times.Select(t => 7 - (3 * (t - 100.3) * (t - 100.3)))];
        var fit = new LocalPolynomial();
        fit.Fit(times, values, 0, 5);
        Assert.Equal(100.3, fit.Vertex()!.Value, 1e-9);
        Assert.Equal(7, fit.At(100.3, 2).Value, 1e-9);
        Assert.Equal(-6, fit.Curvature, 1e-8);
        Assert.Equal(-6 * 0.6, fit.SlopeAt(100.9, 2), 1e-8);
        Assert.Equal(0, fit.ResidualSquares, 1e-15);
    }

    [Fact]
    public void Agrees_with_MathNets_least_squares()
    {
        var gauss = new Gauss(5);
        double[] times = [.. Enumerable.Range(0, 40).Select(i => i * 0.01)];
        double[] values = [.. times.Select(t => 500 + (200 * t) - (30 * t * t) + gauss.Next())];
        var fit = new LocalPolynomial();
        fit.Fit(times, values, 0, 39);
        double[] expected = MathNet.Numerics.Fit.Polynomial(times, values, 2);
        foreach (double t in new[] { 0, 0.2, 0.39 })
        {
            Assert.Equal(expected[0] + (expected[1] * t) + (expected[2] * t * t), fit.At(t, 2).Value, 1e-8);
            Assert.Equal(expected[1] + (2 * expected[2] * t), fit.SlopeAt(t, 2), 1e-6);
        }
    }

    [Fact]
    public void Knows_how_unsure_it_is()
    {
        // A parabola through n even samples has at its end nearly 9/n of a sample's variance, in its middle 9/4n (arithmetic, large n).
        double[] times = [.. Enumerable.Range(0, 2001).Select(i => (double)i)];
        var fit = new LocalPolynomial();
        fit.Fit(times, times, 0, 2000);
        Assert.Equal(Math.Sqrt(9 / 2001.0), fit.At(2000, 2).NoiseFactor, 1e-3);
        Assert.Equal(Math.Sqrt(9 / 4.0 / 2001), fit.At(1000, 2).NoiseFactor, 1e-3);
    }

    [Fact]
    public void Samples_of_one_time_give_their_mean()
    {
        var fit = new LocalPolynomial();
        fit.Fit([3, 3, 3, 3, 3], [1, 2, 3, 4, 5], 0, 4);
        Assert.Equal(0, fit.Degree);
        Assert.Equal(3, fit.At(3, 2).Value, 1e-12);
        Assert.Null(fit.Vertex());
    }
}
