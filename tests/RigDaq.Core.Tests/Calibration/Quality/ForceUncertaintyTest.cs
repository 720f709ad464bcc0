using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Tests.Calibration.Quality;

public sealed class ForceUncertaintyTest
{
    // 0.001 N a count, slope uncertain by 1e-4 from scatter (12 degrees of freedom), gravity 5e-5.
    private static readonly UncertaintyModel Model = new()
    {
        Coefficients = [0.001],
        ScatterCovariance = [[1e-14]],
        ScatterDegreesOfFreedom = 12,
        ReferenceShifts = [new ReferenceShift(ReferenceForces.GravitySource, [5e-8])],
        GreatestReferenceNewtons = 50,
        ResolutionCounts = 10,
        ReversibilityNewtons = [new ForcePoint(25, 0.02), new ForcePoint(50, 0.03)],
        ZeroDriftNewtons = 0.005,
        CreepPercent = 0.02,
        Inputs = new UncertaintyInputs
        {
            FullScaleNewtons = 1000,
            NonLinearityPercent = 0.03,
            TemperaturePercentPerKelvin = 0.002,
            TemperatureSpreadKelvin = 5
        },
    };

    [Fact]
    public void Adds_its_parts_by_squares_and_expands_by_t()
    {
        var uncertainty = ForceUncertainty.Of(Model, 50);
        double[] parts = [50 * 5e-5, 50 * 1e-4, 0.01 / Math.Sqrt(6), 0.03 * 0.02 / Math.Sqrt(3), 0.005 / Math.Sqrt(3), 0.01 / Math.Sqrt(3),
            0.005 / Math.Sqrt(3)];
        double expected = Math.Sqrt(parts.Sum(part => part * part));
        Assert.Equal(expected, uncertainty.StandardNewtons!.Value, 12);
        double effective = Math.Pow(expected, 4) / (Math.Pow(0.005, 4) / 12);
        Assert.Equal(effective, uncertainty.EffectiveDegreesOfFreedom!.Value, 6);
        Assert.Equal(EffectiveFreedom.CoverageFactor(effective, 0.95) * expected, uncertainty.ExpandedNewtons!.Value, 12);
        Assert.Equal(ForceReach.Inside, uncertainty.Reach);
        Assert.Empty(uncertainty.Notes);
    }

    // A cell of 0.03 % of 1,000 N: e = 0.3 N. At 900 N with references to 50 N: 4·900·850/1e6 = 3.06 times that.
    [Theory]
    [InlineData(60, 0.3)]
    [InlineData(900, 0.3 * 3.06)]
    public void Allows_for_the_cells_non_linearity_beyond_the_references(double force, double halfWidth)
    {
        var line = ForceUncertainty.Of(Model, force).Lines.Single(part => part.Kind == UncertaintyKind.Extrapolation);
        Assert.Equal(halfWidth / Math.Sqrt(3), line.StandardNewtons, 10);
    }

    [Fact]
    public void Doubles_the_allowance_of_a_best_line_and_names_an_assumed_one()
    {
        var best = Model with { Inputs = Model.Inputs with { NonLinearityOfBestLine = true } };
        Assert.Equal(2, Allowance(best) / Allowance(Model), 10);
        var unknown = Model with { Inputs = new UncertaintyInputs { FullScaleNewtons = 1000 } };
        Assert.Equal(ForceUncertainty.AssumedNonLinearityPercent / 0.03, Allowance(unknown) / Allowance(Model), 10);
        Assert.Contains(ForceUncertainty.Of(unknown, 900).Notes, note => note.AsKept().Contains("assumed", StringComparison.Ordinal));

        static double Allowance(UncertaintyModel model)
            => ForceUncertainty.Of(model, 900).Lines.Single(line => line.Kind == UncertaintyKind.Extrapolation).StandardNewtons;
    }

    [Theory]
    [InlineData(50, ForceReach.Inside)]
    [InlineData(51, ForceReach.AboveReferences)]
    [InlineData(100, ForceReach.AboveReferences)]
    [InlineData(100.1, ForceReach.Extrapolated)]
    public void Says_how_far_it_reaches(double force, ForceReach reach)
    {
        var uncertainty = ForceUncertainty.Of(Model, force);
        Assert.Equal(reach, uncertainty.Reach);
        Assert.Equal(reach == ForceReach.Extrapolated,
            uncertainty.Notes.Any(note => note.AsKept().StartsWith(ForceUncertainty.ExtrapolatedWord, StringComparison.Ordinal)));
        Assert.Equal(reach != ForceReach.Inside, uncertainty.ReachNote is { } beyond && uncertainty.Notes.Contains(beyond));
    }

    [Fact]
    public void Carries_no_curve_beyond_its_references()
    {
        var curved = Model with { Coefficients = [0.001, 1e-13], ScatterCovariance = [[1e-14, 0], [0, 1e-28]], ReferenceShifts = [] };
        Assert.NotNull(ForceUncertainty.Of(curved, 45).ExpandedNewtons);
        Assert.Null(ForceUncertainty.Of(curved, 60).ExpandedNewtons);
    }
}
