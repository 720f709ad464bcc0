using RigDaq.Core.Strength;

namespace RigDaq.Core.Tests.Strength;

public sealed class StrengthCalculationTest
{
    private static readonly TraceReading Reading = new()
    {
        Ending = PullEnding.Broken,
        PeakForceNewtons = 800,
        PeakForceStandardUncertaintyNewtons = 0.8,
        BreakForceNewtons = 780,
    };

    [Fact]
    public void Divides_force_by_section_and_adds_relative_uncertainties_in_squares()
    {
        // Arithmetic: 800/20 = 40 MPa; relative 0.001, 0.01 and 0.005: sqrt(1e-6 + 1e-4) and sqrt(1e-6 + 1e-4 + 25e-6).
        StrengthResult result = StrengthCalculation.Calculate(
            PullEnding.Broken, Reading, new SectionForStrength(20, 0.2, "per specimen"), new ForceUncertainty(4, 98))!;
        Assert.Equal(40, result.Megapascals, 1e-12);
        Assert.Equal(39, result.AtBreakMegapascals!.Value, 1e-12);
        Assert.Equal(40 * Math.Sqrt(1.01e-4), result.RelativeComparisonUncertaintyMegapascals, 1e-12);
        Assert.Equal(40 * Math.Sqrt(1.26e-4), result.StandardUncertaintyMegapascals, 1e-12);
        Assert.True(result.Extrapolated);
    }

    [Theory]
    [InlineData(PullEnding.SlippedOut)]
    [InlineData(PullEnding.Unbroken)]
    [InlineData(PullEnding.Stopped)]
    public void What_did_not_break_has_no_strength(PullEnding ending) =>
        Assert.Null(StrengthCalculation.Calculate(ending, Reading, new SectionForStrength(20, 0.2, "x"), default));

    [Fact]
    public void Without_a_section_there_is_no_strength() =>
        Assert.Null(StrengthCalculation.Calculate(PullEnding.Broken, Reading, null, default));
}
