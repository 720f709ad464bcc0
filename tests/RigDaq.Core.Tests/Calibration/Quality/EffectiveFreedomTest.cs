using RigDaq.Core.Calibration.Quality;

namespace RigDaq.Core.Tests.Calibration.Quality;

public sealed class EffectiveFreedomTest
{
    // JCGM 100:2008 (GUM), H.1.6: end-gauge calibration. Parts in nm with their degrees of freedom; u² = 1002 nm², effective 16.7, U99 = 93
    // nm with k = 2.92 (from t at the whole number below, 16).
    [Fact]
    public void Repeats_the_effective_degrees_of_freedom_of_the_gauge_block()
    {
        (double, double?)[] parts = [(25, 18), (9.7, 25.6), (2.9, 50), (16.6, 2)];
        double effective = EffectiveFreedom.Of(Math.Sqrt(1002), parts);
        Assert.Equal(16.7, effective, 1);
        Assert.Equal(2.92, EffectiveFreedom.CoverageFactor(Math.Floor(effective), 0.99), 2);
        Assert.Equal(93, 32 * EffectiveFreedom.CoverageFactor(Math.Floor(effective), 0.99), 0);
    }

    // R 4.2.2: qt(0.975, ν), qt(0.995, ν), qnorm(0.975).
    [Theory]
    [InlineData(1, 0.95, 12.7062047361747)]
    [InlineData(2, 0.95, 4.30265272974946)]
    [InlineData(5, 0.95, 2.57058183563631)]
    [InlineData(10.5, 0.95, 2.21384029291879)]
    [InlineData(16.7, 0.99, 2.90468093842936)]
    [InlineData(30, 0.99, 2.74999565356723)]
    [InlineData(double.PositiveInfinity, 0.95, 1.95996398454005)]
    public void Takes_its_factor_from_t(double freedom, double coverage, double expected) =>
        Assert.Equal(expected, EffectiveFreedom.CoverageFactor(freedom, coverage), 1e-8);

    [Fact]
    public void Is_infinite_without_a_finite_part() =>
        Assert.Equal(double.PositiveInfinity, EffectiveFreedom.Of(5, [(3, null), (4, null)]));
}
