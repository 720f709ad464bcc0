using RigDaq.Core.Pulls;
using RigDaq.Core.Strength;
using RigDaq.Core.Trace;

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
            PullEnding.Broken, Reading, new SectionForStrength(20, 0.2, "per specimen"), new ForceForStrength(4, 98))!;
        Assert.Equal(40, result.Megapascals, 1e-12);
        Assert.Equal(39, result.AtBreakMegapascals!.Value, 1e-12);
        Assert.Equal(40 * Math.Sqrt(1.01e-4), result.RelativeComparisonUncertaintyMegapascals, 1e-12);
        Assert.Equal(40 * Math.Sqrt(1.26e-4), result.StandardUncertaintyMegapascals, 1e-12);
        Assert.True(result.Extrapolated);
    }

    // By hand (JCGM 100, 5.1.6 and F.1.2.3: what two inputs share adds before it is squared): 10 × 2 mm read 0.03/√3 mm too large is 12 mm
    // × that; bending 3 %: 0.03/√3.
    [Fact]
    public void Adds_what_was_entered_of_caliper_and_alignment_to_the_absolute_figure_alone()
    {
        var section = new SectionForStrength(20, 0.2, "x") { CaliperSlopeMillimetres = 12 };
        var bench = new BenchInputs { CaliperErrorMillimetres = 0.03, BendingPercent = 3 };
        StrengthResult result = StrengthCalculation.Calculate(PullEnding.Broken, Reading, section, new ForceForStrength(4, 98), bench)!;
        double caliper = 0.03 / Math.Sqrt(3) * 12 / 20, bending = 0.03 / Math.Sqrt(3);
        Assert.Equal(40 * Math.Sqrt(1.26e-4 + (caliper * caliper) + (bending * bending)), result.StandardUncertaintyMegapascals, 1e-12);
        Assert.Equal(40 * Math.Sqrt(1.01e-4), result.RelativeComparisonUncertaintyMegapascals, 1e-12);
        Assert.Equal(40 * caliper, result.Bench!.CaliperStandardUncertaintyMegapascals, 1e-12);
        Assert.Equal(40 * bending, result.Bench.BendingStandardUncertaintyMegapascals, 1e-12);
        Assert.Equal(40 * 0.005, result.CalibrationStandardUncertaintyMegapascals, 1e-12);
    }

    [Fact]
    public void Assumes_a_usual_bench_where_nothing_was_entered_and_keeps_that_nothing_was()
    {
        var section = new SectionForStrength(20, 0.2, "x") { CaliperSlopeMillimetres = 12 };
        StrengthBench bench = StrengthCalculation.Calculate(PullEnding.Broken, Reading, section, default, new BenchInputs())!.Bench!;
        Assert.Equal(40 * BenchInputs.AssumedCaliperErrorMillimetres / Math.Sqrt(3) * 12 / 20, bench.CaliperStandardUncertaintyMegapascals,
            1e-12);
        Assert.Equal(40 * BenchInputs.AssumedBendingPercent / 100 / Math.Sqrt(3), bench.BendingStandardUncertaintyMegapascals, 1e-12);
        Assert.Null(bench.CaliperErrorMillimetres);
        Assert.Null(bench.BendingPercent);
    }

    [Fact]
    public void What_was_kept_with_the_readings_goes_before_the_benchs()
    {
        var section = new SectionForStrength(20, 0.2, "x") { CaliperSlopeMillimetres = 12, CaliperErrorMillimetres = 0.005 };
        StrengthBench bench = StrengthCalculation.Calculate(PullEnding.Broken, Reading, section, default,
            new BenchInputs { CaliperErrorMillimetres = 0.03 })!.Bench!;
        Assert.Equal(0.005, bench.CaliperErrorMillimetres);
        Assert.Equal(40 * 0.005 / Math.Sqrt(3) * 12 / 20, bench.CaliperStandardUncertaintyMegapascals, 1e-12);
    }

    [Fact]
    public void A_pull_of_before_keeps_the_uncertainty_that_it_had()
    {
        StrengthResult result = StrengthCalculation.Calculate(PullEnding.Broken, Reading, new SectionForStrength(20, 0.2, "x")
        { CaliperSlopeMillimetres = 12 }, new ForceForStrength(4, 98), null)!;
        Assert.Equal(40 * Math.Sqrt(1.26e-4), result.StandardUncertaintyMegapascals, 1e-12);
        Assert.Null(result.Bench);
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
