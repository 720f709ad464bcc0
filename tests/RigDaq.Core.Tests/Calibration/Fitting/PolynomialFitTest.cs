using RigDaq.Core.Calibration.Fitting;

namespace RigDaq.Core.Tests.Calibration.Fitting;

public sealed class PolynomialFitTest
{
    // NIST StRD, linear regression, data set Pontius (load-cell calibration): deflection y against load x.
    private static readonly double[] PontiusDeflections =
    [
        .11019, .21956, .32949, .43899, .54803, .65694, .76562, .87487, .98292, 1.09146,
        1.20001, 1.30822, 1.41599, 1.52399, 1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844,
        .11052, .22018, .32939, .43886, .54798, .65739, .76596, .87474, .98300, 1.09150,
        1.20004, 1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445, 2.06177, 2.16829,
    ];

    private static readonly double[] PontiusLoads = [.. Enumerable.Range(0, 40).Select(i => 150_000.0 * ((i % 20) + 1))];

    [Fact]
    public void Reaches_eleven_digits_of_the_certified_values_of_Pontius()
    {
        var fit = PolynomialFit.Of(PontiusLoads, PontiusDeflections, 2, constant: true);
        AssertDigits(0.673565789473684E-03, fit.Coefficients[0], 11);
        AssertDigits(0.732059160401003E-06, fit.Coefficients[1], 11);
        AssertDigits(-0.316081871345029E-14, fit.Coefficients[2], 11);
        AssertDigits(0.107938612033077E-03, fit.StandardErrors[0], 11);
        AssertDigits(0.157817399981659E-09, fit.StandardErrors[1], 11);
        AssertDigits(0.486652849992036E-16, fit.StandardErrors[2], 11);
        AssertDigits(0.205177424076185E-03, fit.ResidualStandardDeviation, 11);
        AssertDigits(0.999999900178537, fit.RSquared, 14);
        Assert.Equal(37, fit.DegreesOfFreedom);
    }

    // JCGM 100:2008 (GUM), H.3: calibration of a thermometer, corrections b against t − 20 °C. Printed: y1 = −0.1712, y2 = 0.00218, s(y1) =
    // 0.0029, s(y2) = 0.00067, r = −0.930, s = 0.0035, b(30 °C) = −0.1494, u = 0.0041. More digits: R 4.2.2, lm
    // (tools/reference/calibration-checks.R).
    [Fact]
    public void Repeats_the_thermometer_of_the_GUM_with_its_covariance()
    {
        double[] temperatures = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
        double[] corrections = [-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160];
        var fit = PolynomialFit.Of([.. temperatures.Select(t => t - 20)], corrections, 1, constant: true);
        AssertDigits(-0.17120379013135, fit.Coefficients[0], 11);
        AssertDigits(0.00218269773988728, fit.Coefficients[1], 11);
        AssertDigits(8.28056930091728e-06, fit.Covariance[0][0], 11);
        AssertDigits(-1.78834074867392e-06, fit.Covariance[0][1], 11);
        AssertDigits(4.46142204781102e-07, fit.Covariance[1][1], 11);
        AssertDigits(0.00349756396350529, fit.ResidualStandardDeviation, 11);
        Assert.Equal(-0.930, fit.Covariance[0][1] / (fit.StandardErrors[0] * fit.StandardErrors[1]), 3);
        Assert.Equal(-0.1494, fit.At(10), 4);
        double variance = fit.Covariance[0][0] + (100 * fit.Covariance[1][1]) + (20 * fit.Covariance[0][1]);
        Assert.Equal(0.0041, Math.Sqrt(variance), 4);
    }

    // R 4.2.2, lm(f ~ 0 + poly(x, d, raw = TRUE)) (tools/reference/calibration-checks.R).
    [Theory]
    [InlineData(1, new[] { 0.00099962604325121 }, new[] { 2.52305635319424e-08 }, 0.00529438751209286)]
    [InlineData(2, new[] { 9.99905637379283e-04, -3.41580133959886e-12 }, new[] { 3.97578126736678e-08, 4.70971859786473e-13 },
        0.00204031172307482)]
    [InlineData(3, new[] { 9.99972477552723e-04, -5.49113949776060e-12, 1.44584086190885e-17 },
        new[] { 1.07315847596844e-07, 3.11536346053680e-12, 2.14362242924319e-17 }, 0.00211358510038546)]
    public void Agrees_with_R_without_a_constant(int degree, double[] coefficients, double[] standardErrors, double residual)
    {
        double[] counts = [20003, 40010, 60018, 80030, 100041, 20001, 40011, 60015, 80032, 100045];
        double[] forces = [20, 40, 60, 80, 100, 20, 40, 60, 80, 100];
        var fit = PolynomialFit.Of(counts, forces, degree, constant: false);
        for (int i = 0; i < degree; i++)
        {
            AssertDigits(coefficients[i], fit.Coefficients[i], 8);
            AssertDigits(standardErrors[i], fit.StandardErrors[i], 8);
        }

        AssertDigits(residual, fit.ResidualStandardDeviation, 9);
    }

    // A cubic whose terms are known, at the counts of a 24-bit converter: squares reach 6e13, cubes 5e20.
    [Fact]
    public void Keeps_its_digits_at_the_counts_of_a_24_bit_converter()
    {
        double[] counts = [.. Enumerable.Range(1, 12).Select(i => i * 690_000.0)];
        double[] forces = [.. counts.Select(d => (1.2e-4 * d) + (3e-13 * d * d) - (2e-20 * d * d * d))];
        var fit = PolynomialFit.Of(counts, forces, 3, constant: false);
        AssertDigits(1.2e-4, fit.Coefficients[0], 11);
        AssertDigits(3e-13, fit.Coefficients[1], 9);
        AssertDigits(-2e-20, fit.Coefficients[2], 8);
    }

    [Fact]
    public void Refuses_points_that_cannot_carry_the_degree() =>
        Assert.Throws<CalibrationRefusedException>(() => PolynomialFit.Of([5, 5, 5], [1, 2, 3], 2, constant: false));

    private static void AssertDigits(double expected, double actual, int digits)
    {
        double error = Math.Abs(actual - expected) / Math.Abs(expected);
        Assert.True(-Math.Log10(Math.Max(error, 1e-17)) >= digits, $"{actual:R} instead of {expected:R}: {-Math.Log10(error):0.0} digits.");
    }
}
