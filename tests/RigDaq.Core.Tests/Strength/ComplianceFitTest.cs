using RigDaq.Core.Compliance;
using RigDaq.Core.Tests.Signal;

namespace RigDaq.Core.Tests.Strength;

/// <summary>The truth is Hooke's law: springs in series add their gives, a bar gives L/(E·A).</summary>
public sealed class ComplianceFitTest
{
    private const double Give = 6.5e-4;

    [Fact]
    public void A_bar_gives_what_Hooke_says()
    {
        // 100 mm of steel, 40 mm², 205 GPa: 100/(205,000·40) mm/N.
        Assert.Equal(100 / (205_000.0 * 40), new StiffBar(100, 40).MillimetresPerNewton, 1e-12);
        Assert.Throws<RefusalException>(() => new StiffBar(0, 40).Validate());
    }

    [Fact]
    public void Takes_the_bars_own_give_off_the_line()
    {
        var bar = new StiffBar(100, 40);
        ComplianceFit fit = ComplianceFit.Of(Positions(f => (Give + bar.MillimetresPerNewton) * f), Forces(0), 0, bar);
        Assert.Equal(Give, fit.MillimetresPerNewton, Give * 1e-6);
        Assert.Empty(fit.Warnings);
        Assert.InRange(fit.FromNewtons, 40, 41);
        Assert.Equal(200, fit.ToNewtons);
        Assert.InRange(fit.Points.Count, 10, 200);
        ComplianceFit without = ComplianceFit.Of(Positions(f => Give * f), Forces(0), 0, null);
        Assert.Contains(without.Warnings, warning => warning.Code == "complianceHoldsBar");
    }

    [Fact]
    public void States_an_uncertainty_that_holds_the_truth_though_the_screw_wobbles()
    {
        // A screw of 2 mm pitch that is 3 µm off once a turn: over 0.13 mm of way that bends, and residuals hang together.
        int held = 0;
        const int Times = 200;
        for (int seed = 0; seed < Times; seed++)
        {
            var noise = new Gauss(seed);
            double phase = 2 * Math.PI * seed / Times;
            double[] forces = [.. Forces(0).Select(f => f + (0.1 * noise.Next()))];
            double[] positions = Positions(f => (Give * f) + (0.003 * Math.Sin((2 * Math.PI * Give * f / 0.05) + phase)));
            ComplianceFit fit = ComplianceFit.Of(positions, forces, 0.1, new StiffBar(1e-3, 1000));
            if (Math.Abs(fit.MillimetresPerNewton - Give) <= 2 * fit.StandardUncertaintyMillimetresPerNewton) held++;
        }

        Assert.InRange(held, (int)(0.93 * Times), Times);
    }

    [Fact]
    public void Says_where_the_line_is_none_because_grips_bed_in()
    {
        // Twice the give at first, dying away over 60 N.
        double[] positions = Positions(f => (Give * f) + (Give * 60 * (1 - Math.Exp(-f / 60))));
        ComplianceFit fit = ComplianceFit.Of(positions, Forces(0), 0.05, new StiffBar(100, 40));
        Assert.Contains(fit.Warnings, warning => warning.AsKept().StartsWith("No straight line", StringComparison.Ordinal)
            && warning.AsKept().Contains("bed in", StringComparison.Ordinal));
        Assert.True(fit.LowerHalfMillimetresPerNewton > 1.1 * fit.UpperHalfMillimetresPerNewton);
        Assert.InRange(fit.StandardUncertaintyMillimetresPerNewton, 0.03 * Give, Give);
    }

    [Theory]
    [InlineData(2, 1, "pull harder")]
    [InlineData(200, -1, "sign of the position")]
    [InlineData(0, 1, "samples under load")]
    public void Refuses_what_cannot_tell(double greatest, double sign, string expected)
    {
        double[] forces = [.. Enumerable.Range(0, 400).Select(i => greatest * i / 399.0)];
        double[] positions = [.. forces.Select(f => sign * Give * f)];
        Assert.Contains(expected, Assert.Throws<RefusalException>(() => ComplianceFit.Of(positions, forces, 0.1, null)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Refuses_a_bar_that_gives_more_than_was_seen_and_steps_too_coarse()
    {
        Assert.Contains("the bar alone",
            Assert.Throws<RefusalException>(() => ComplianceFit.Of(Positions(f => Give * f), Forces(0), 0, new StiffBar(1000, 4))).Message,
            StringComparison.Ordinal);
        double[] coarse = Positions(f => Math.Round(Give * f / 0.05) * 0.05);
        Assert.Contains("too coarse", Assert.Throws<RefusalException>(() => ComplianceFit.Of(coarse, Forces(0), 0, null)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Repeated_pulls_are_averaged_and_their_scatter_counts()
    {
        ComplianceFit[] fits =
            [.. new[]
            { 0.97, 1.0, 1.03 }.Select(share => ComplianceFit.Of(Positions(f => share * Give * f), Forces(0), 0,
            new StiffBar(1e-3, 1000)))];
        var mean = ComplianceFit.Mean(fits);
        Assert.Equal(Give, mean.MillimetresPerNewton, Give * 1e-4);

        // The standard deviation of 0.97, 1 and 1.03.
        Assert.InRange(mean.StandardUncertaintyMillimetresPerNewton, 0.0299 * Give, 0.031 * Give);
    }

    private static double[] Forces(double from) => [.. Enumerable.Range(0, 800).Select(i => from + ((200 - from) * i / 799.0))];

    private static double[] Positions(Func<double, double> of) => [.. Forces(0).Select(f => 30 + of(f))];
}
