using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>NIST/ITL StRD analysis of variance sets, and R's data set PlantGrowth.</summary>
public class OneWayAnovaTest
{
    public static TheoryData<string, double, double, double, double, double, double> Certified => new()
    {
        // between squares, within squares, F, R², residual standard deviation, digits
        { "SiRstvt", 5.11462616000000E-02, 2.16636560000000E-01, 1.18046237440255E+00, 1.90999039051129E-01, 1.04076068334656E-01, 12 },
        { "SmLs01t", 1.68, 1.80, 21.0, 4.82758620689655E-01, 0.1, 13 },
        // The data are rounded in binary; about 9 digits are what they hold.
        { "SmLs04t", 1.68, 1.80, 21.0, 4.82758620689655E-01, 0.1, 9 },
        { "AtmWtAgt", 3.63834187500000E-09, 1.04951729166667E-08, 1.59467335677930E+01, 2.57426544538321E-01, 1.51048314446410E-05, 8 },
    };

    [Theory]
    [MemberData(nameof(Certified))]
    public void Squares_and_F_have_the_certified_digits(string set, double between, double within, double f, double rSquared,
        double residual, double digits)
    {
        double[][] parts = set switch
        {
            "SiRstvt" => NistData.SiRstvt,
            "SmLs01t" => NistData.SmLs(1),
            "SmLs04t" => NistData.SmLs(1_000_000),
            _ => NistData.AtmWtAgt,
        };
        OneWayAnova anova = OneWayAnova.Of(parts)!;
        Close.Digits(digits, between, anova.BetweenSquares);
        Close.Digits(digits, within, anova.WithinSquares);
        Close.Digits(digits, f, anova.F);
        Close.Digits(digits, rSquared, anova.BetweenSquares / (anova.BetweenSquares + anova.WithinSquares));
        Close.Digits(digits, residual, Math.Sqrt(anova.WithinMeanSquare));
    }

    [Fact]
    public void PlantGrowth_gives_the_F_of_R()
    {
        OneWayAnova anova = OneWayAnova.Of(RData.PlantGrowth.Select(g => (IReadOnlyList<double>)g.Values).ToArray())!;
        Close.Digits(12, 4.84608786238014, anova.F);
    }
}
