using RigDaq.Core.Comparisons;
using RigDaq.Core.Runs;
using RigDaq.Core.Statistics;
using RigDaq.Core.Tests.Specimens;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Against R 4.2's survreg (tools/reference/statistics.R); the profile intervals there come from uniroot on its
/// likelihood.</summary>
public class WeibullTest
{
    // NIST/SEMATECH e-Handbook 8.4.1.2: twenty units, ten censored at 500; the handbook prints shape 1.7208, scale 606.5280.
    private static readonly double[] Failures = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386];
    private static readonly double[] Censored = [500, 500, 500, 500, 500, 500, 500, 500, 500, 500];

    [Fact]
    public void The_e_Handbooks_censored_data_give_the_figures_of_survreg()
    {
        WeibullFit fit = Weibull.Fit(Failures, Censored, 95, out _)!;
        Close.Digits(8, 1.72079726080136, fit.Modulus);
        Close.Digits(8, 606.527558003572, fit.CharacteristicMegapascals);
        Close.Digits(11, -75.1346181644749, fit.LogLikelihood);
        Close.Digits(7, 0.905645358753762, fit.ModulusLow);
        Close.Digits(7, 2.88573786574131, fit.ModulusHigh);
        Close.Digits(7, 437.556745394078, fit.CharacteristicLowMegapascals);
        Close.Digits(7, 1118.87762469857, fit.CharacteristicHighMegapascals);
        Assert.Equal((10, 10), (fit.Failures, fit.Censored));
        Assert.Equal(1.7208, fit.Modulus, 4);
    }

    [Fact]
    public void Uncensored_data_give_the_figures_of_survreg()
    {
        WeibullFit fit = Weibull.Fit(RData.PlantGrowth[0].Values, [], 95, out _)!;
        Close.Digits(8, 9.56548637310154, fit.Modulus);
        Close.Digits(8, 5.28447660966602, fit.CharacteristicMegapascals);
        Close.Digits(7, 5.63293809544741, fit.ModulusLow);
        Close.Digits(7, 14.4471815601643, fit.ModulusHigh);
        Close.Digits(7, 4.88831510230894, fit.CharacteristicLowMegapascals);
        Close.Digits(7, 5.68545162838904, fit.CharacteristicHighMegapascals);
    }

    [Fact]
    public void The_plot_has_Benards_median_ranks_and_moves_them_up_after_a_censored_strength()
    {
        IReadOnlyList<WeibullPoint> points = Weibull.Fit([30, 34, 38], [], 95, out _)!.Points;
        Assert.Equal([0.7 / 3.4, 1.7 / 3.4, 2.7 / 3.4], points.Select(p => p.Probability), new Near());

        // Johnson 1964: after one censored of five, the increment is (n + 1 − previous)/(1 + remaining).
        points = Weibull.Fit([30, 38, 40, 44], [34], 95, out _)!.Points;
        Assert.Equal([0.7 / 5.4, (2.25 - 0.3) / 5.4, (3.5 - 0.3) / 5.4, (4.75 - 0.3) / 5.4], points.Select(p => p.Probability), new Near());
    }

    [Theory]
    [InlineData("3 failures", 30.0, 31.0)]
    [InlineData("differ", 30.0, 30.0, 30.0)]
    [InlineData("above 0", 30.0, -1.0, 31.0)]
    public void What_cannot_be_fitted_says_why(string expected, params double[] failures)
    {
        Assert.Null(Weibull.Fit(failures, [], 95, out Sentence problem));
        Assert.Contains(expected, problem, StringComparison.Ordinal);
    }

    [Fact]
    public void The_unit_does_not_matter()
    {
        double[] strengths = [31, 33, 36, 37, 40];
        WeibullFit fit = Weibull.Fit(strengths, [], 95, out _)!, scaled = Weibull.Fit([.. strengths.Select(x => x * 1e6)], [], 95, out _)!;
        Close.Digits(10, fit.Modulus, scaled.Modulus);
        Close.Digits(10, fit.CharacteristicMegapascals * 1e6, scaled.CharacteristicMegapascals);
        Assert.Equal(0.632120558828558,
            1 - Math.Exp(-Math.Pow(fit.Quantile(0.632120558828558) / fit.CharacteristicMegapascals, fit.Modulus)), 12);
    }

    [Fact]
    public void Grip_failures_of_a_study_are_censored_and_other_voids_left_out()
    {
        StudyAnswer answer = StudyComparison.Of(Studies.Two(6),
        [
            Studies.Run("A-01", 1600), Studies.Run("A-02", 1640), Studies.Run("A-03", 1580), Studies.Run("A-04", 1620),
            Studies.Run("A-05", 1700, voided: new RunVoid(VoidKind.GripFailure, "in the grip", Studies.Start)),
            Studies.Run("A-06", 200, voided: new RunVoid(VoidKind.MisCut, "notched", Studies.Start)),
            Studies.Run("B-01", 1600),
        ]);
        IReadOnlyList<GroupWeibull> fits = StudyWeibull.Of(answer);
        Assert.Equal((4, 1), (fits[0].Fit!.Failures, fits[0].Fit!.Censored));
        Assert.Null(fits[1].Fit);
        Assert.False(fits[1].Problem.IsEmpty);
    }

    private sealed class Near : IEqualityComparer<double>
    {
        public bool Equals(double x, double y) => Math.Abs(x - y) < 1e-12;

        public int GetHashCode(double obj) => 0;
    }
}
