using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;

namespace RigDaq.Core.Tests.Strength;

public sealed class UncertaintyOriginsTest
{
    private static readonly UncertaintyModel Model = new()
    {
        Coefficients = [0.001],
        ScatterCovariance = [[1e-14]],
        ScatterDegreesOfFreedom = 12,
        ReferenceShifts = [new ReferenceShift(ReferenceForces.GravitySource, [5e-8])],
        GreatestReferenceNewtons = 500,
        ResolutionCounts = 10,
        ZeroDriftNewtons = 0.005,
        Inputs = new UncertaintyInputs { FullScaleNewtons = 1000, NonLinearityPercent = 0.03, TemperatureSpreadKelvin = 0 },
    };

    // By hand (JCGM 100, 5.1.6): relative uncertainties of a quotient add in squares; one caliper's error is shared by width and thickness and adds before.
    [Fact]
    public void Adds_force_section_caliper_and_alignment_and_names_the_greatest_first()
    {
        var section = new SectionMeasurement { WidthsMillimetres = [10], ThicknessesMillimetres = [4], ResolutionMillimetres = 0.01 };
        var origins = UncertaintyOrigins.Of(Model, 400, section, new BenchInputs { CaliperErrorMillimetres = 0.02, BendingPercent = 1 })!;
        double force = Core.Calibration.Quality.ForceUncertainty.Of(Model, 400).StandardNewtons!.Value / 400;
        double step = 0.01 / Math.Sqrt(12);
        double area = Math.Sqrt(Math.Pow(step / 10, 2) + Math.Pow(step / 4, 2));
        double caliper = 0.02 / Math.Sqrt(3) * ((1 / 10.0) + (1 / 4.0));
        double bending = 0.01 / Math.Sqrt(3);
        Assert.Equal(200 * Math.Sqrt((force * force) + (area * area) + (caliper * caliper) + (bending * bending)), origins.ExpandedPercent, 10);
        Assert.Equal(100, origins.Origins.Sum(origin => origin.SharePercent), 9);
        Assert.Contains("alignment", origins.Origins[0].Name, StringComparison.Ordinal);
        Assert.Contains("micrometer", origins.Gains[0].Advice, StringComparison.Ordinal);
        Assert.All(origins.Gains, gain => Assert.True(gain.ExpandedPercent < origins.ExpandedPercent));
        Assert.InRange(origins.Gains.Count, 1, 3);
    }

    [Fact]
    public void Says_what_is_assumed_and_takes_the_force_alone_without_a_section()
    {
        var strength = UncertaintyOrigins.Of(Model, 400, new SectionMeasurement { WidthsMillimetres = [10], ThicknessesMillimetres = [4] }, new BenchInputs())!;
        Assert.Equal(2, strength.Origins.Count(origin => origin.IsAssumed));
        var force = UncertaintyOrigins.Of(Model, 400, null, new BenchInputs())!;
        Assert.DoesNotContain(force.Origins, origin => origin.IsAssumed);
        Assert.Equal(200 * Core.Calibration.Quality.ForceUncertainty.Of(Model, 400).StandardNewtons!.Value / 400, force.ExpandedPercent, 10);
    }
}
