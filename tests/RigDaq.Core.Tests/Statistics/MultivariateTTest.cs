using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Against R's mvtnorm (tools/reference/multivariate-t.R), itself good to about a millionth.</summary>
public class MultivariateTTest
{
    private static readonly double[,] Mixed = { { 1, 0.5, 0.3, 0 }, { 0.5, 1, 0, 0.4 }, { 0.3, 0, 1, 0.5 }, { 0, 0.4, 0.5, 1 } };
    private static readonly double[,] Opposed = { { 1, -0.5 }, { -0.5, 1 } };

    [Theory]
    [InlineData("half3", 2.1, 3, 0.1315900, 0.2514159)]
    [InlineData("half8", 2.5, 3, 0.1543197, 0.2810564)]
    [InlineData("ar5", 2.2, 3, 0.1336565, 0.2557913)]
    [InlineData("mixed4", 1.8, 3, 0.2236639, 0.3900025)]
    [InlineData("opposed2", 2, 3, 0.1363522, 0.2196561)]
    [InlineData("half3", 2.1, 12, 0.0686286, 0.1367596)]
    [InlineData("half8", 2.5, 12, 0.0685895, 0.1363198)]
    [InlineData("ar5", 2.2, 12, 0.0680031, 0.1355956)]
    [InlineData("mixed4", 1.8, 12, 0.1486197, 0.2824636)]
    [InlineData("opposed2", 2, 12, 0.0685245, 0.1199207)]
    [InlineData("half3", 2.1, 45, 0.0519497, 0.1038577)]
    [InlineData("half8", 2.5, 45, 0.0455904, 0.0911533)]
    [InlineData("ar5", 2.2, 45, 0.0505755, 0.1011154)]
    [InlineData("mixed4", 1.8, 45, 0.1267064, 0.2459906)]
    [InlineData("opposed2", 2, 45, 0.0515440, 0.0928226)]
    public void Both_tails_are_those_of_mvtnorm(string name, double t, double degrees, double one, double two)
    {
        double[,] r = name switch
        {
            "half3" => Filled(3, (_, _) => 0.5),
            "half8" => Filled(8, (_, _) => 0.5),
            "ar5" => Filled(5, (i, j) => Math.Pow(0.8, Math.Abs(i - j))),
            "mixed4" => Mixed,
            _ => Opposed
        };

        // One common factor is integrated, the others are averaged over a fixed set of points.
        double allowed = name is "ar5" or "mixed4" ? 6e-5 : 2e-6;
        Assert.Equal(one, MultivariateT.UpperTailOfGreatest(t, r, degrees), allowed);
        Assert.Equal(two, MultivariateT.TwoSidedTailOfGreatest(t, r, degrees), allowed);
    }

    [Fact]
    public void One_statistic_is_Student_s()
        => Assert.Equal(StudentT.TwoSidedTail(2.2, 9), MultivariateT.TwoSidedTailOfGreatest(2.2, new double[,] { { 1 } }, 9), 1e-15);

    private static double[,] Filled(int n, Func<int, int, double> of)
    {
        var r = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++) r[i, j] = i == j ? 1 : of(i, j);
        }

        return r;
    }
}
