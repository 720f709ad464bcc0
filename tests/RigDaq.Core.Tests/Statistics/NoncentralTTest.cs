using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Against R 4.2 (tools/reference/statistics.R): pt with ncp, whose absolute error is some 1e-12, and power.t.test with strict =
/// TRUE.</summary>
public class NoncentralTTest
{
    [Theory]
    [InlineData(2, 10, 1, 0.192388437469689)]
    [InlineData(2.1, 38, 3, 0.812883570336593)]
    [InlineData(12.7, 1, 20, 0.883571821475585)]
    [InlineData(3, 4.5, -1, 0.00174713572368423)]
    [InlineData(1.96, 1000, 2.8, 0.799457258705857)]
    [InlineData(0, 7, 0.5, 0.691462461274013)]
    [InlineData(63.66, 1, 90, 0.842516567123278)] // beyond a noncentrality of 37 R's pt approximates: R's integrate instead
    [InlineData(636.6, 1, 500, 0.567793572620656)]
    [InlineData(9.9, 2, 14, 0.860529804510367)]
    [InlineData(4.3, 2, 1, 0.0914167636420008)]
    [InlineData(2.3, 8.7, 2.9, 0.721551261011125)]
    [InlineData(5, 3, -1, 0.00092494283821222)]
    public void Tails_are_those_of_R(double t, double degrees, double noncentrality, double expected) =>
        Close.Digits(9.5, expected, NoncentralT.UpperTail(t, degrees, noncentrality));

    [Fact]
    public void Without_noncentrality_it_is_Students_t()
    {
        foreach (double degrees in new[] { 1.0, 1.3, 2, 5.5, 30, 400 })
        {
            foreach (double t in new[] { -3.0, 0.0, 0.7, 2.1, 5, 40 }) Assert.Equal(StudentT.UpperTail(t, degrees),
                NoncentralT.UpperTail(t, degrees, 0), 1e-11);
        }
    }

    [Theory]
    [InlineData(20, 0.909129032682003)]
    [InlineData(3, 3.07089226636009)]
    public void The_difference_for_80_per_cent_power_is_that_of_power_t_test(int n, double expected) =>
        Close.Digits(8, expected, NoncentralT.NoncentralityFor(0.8, 2 * n - 2, 0.05) * Math.Sqrt(2.0 / n));
}
