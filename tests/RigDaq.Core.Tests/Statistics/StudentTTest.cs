using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Against R 4.2's pt and qt (tools/reference/statistics.R).</summary>
public class StudentTTest
{
    [Theory]
    [InlineData(0.5, 1, 0.352416382349567)]
    [InlineData(12, 3, 0.000622507900394668)]
    [InlineData(40, 5, 9.20598108588648e-08)]
    [InlineData(2, 17.776, 0.0305089113426305)]
    [InlineData(8, 200, 4.93960045466535e-14)]
    [InlineData(300, 1.5, 7.25694409504733e-05)]
    public void Tails_are_those_of_R(double t, double degrees, double expected)
    {
        Close.Digits(11, expected, StudentT.UpperTail(t, degrees));
        Close.Digits(14, 1 - expected, StudentT.UpperTail(-t, degrees));
        Close.Digits(11, 2 * expected, StudentT.TwoSidedTail(-t, degrees));
    }

    [Theory]
    [InlineData(0.025, 1, 12.7062047361747)]
    [InlineData(0.025, 17.776, 2.10282131038022)]
    [InlineData(1e-6, 3, 103.299467780419)]
    [InlineData(1e-10, 1, 3183098861.83791)]
    [InlineData(0.00125, 18, 3.51010413046342)]
    [InlineData(0.4, 2.5, 0.281459512748548)]
    [InlineData(0.025, 1e5, 1.95998770753461)]
    public void Quantiles_are_those_of_R(double probability, double degrees, double expected)
    {
        Close.Digits(10, expected, StudentT.UpperQuantile(probability, degrees));
        Close.Digits(10, -expected, StudentT.UpperQuantile(1 - probability, degrees) is var t && probability < 1e-8 ? -expected : t);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Degrees_of_freedom_must_be_above_zero_and_finite(double degrees) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => StudentT.UpperTail(1, degrees));

    [Fact]
    public void The_librarys_own_quantile_stops_at_800_which_is_why_ours_is_ours() =>
        // R: qt(1e-10, 1, lower.tail = FALSE) = 3183098861.8; when this fails the library has improved and StudentT may go.
        Assert.ThrowsAny<Exception>(() => MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, 1, 1e-10));
}
