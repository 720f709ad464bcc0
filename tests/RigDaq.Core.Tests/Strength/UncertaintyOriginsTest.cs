using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Trace;
using RigDaq.Core.Uncertainty;
using RigDaq.Tests.Shared;

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

    // By hand (JCGM 100, 5.1.6): relative uncertainties of a quotient add in squares; one caliper's error is shared by width and thickness
    // and adds before.
    [Fact]
    public void Adds_force_section_caliper_and_alignment_and_names_the_greatest_first()
    {
        var section = new SectionMeasurement { WidthsMillimetres = [10], ThicknessesMillimetres = [4], ResolutionMillimetres = 0.01 };
        var origins = UncertaintyOrigins.Of(Model, 400, section, new BenchInputs { CaliperErrorMillimetres = 0.02, BendingPercent = 1 })!;
        double force = ForceUncertainty.Of(Model, 400).StandardNewtons!.Value / 400;
        double step = 0.01 / Math.Sqrt(12);
        double area = Math.Sqrt(Math.Pow(step / 10, 2) + Math.Pow(step / 4, 2));
        double caliper = 0.02 / Math.Sqrt(3) * ((1 / 10.0) + (1 / 4.0));
        double bending = 0.01 / Math.Sqrt(3);
        Assert.Equal(200 * Math.Sqrt((force * force) + (area * area) + (caliper * caliper) + (bending * bending)), origins.ExpandedPercent,
            10);
        Assert.Equal(100, origins.Origins.Sum(origin => origin.SharePercent), 9);
        Assert.Contains("alignment", origins.Origins[0].Name, StringComparison.Ordinal);
        Assert.Contains("micrometer", origins.Gains[0].Advice, StringComparison.Ordinal);
        Assert.All(origins.Gains, gain => Assert.True(gain.ExpandedPercent < origins.ExpandedPercent));
        Assert.InRange(origins.Gains.Count, 1, 3);
    }

    [Fact]
    public void Says_what_is_assumed_and_takes_the_force_alone_without_a_section()
    {
        var strength = UncertaintyOrigins.Of(Model, 400, new SectionMeasurement { WidthsMillimetres = [10], ThicknessesMillimetres = [4] },
            new BenchInputs())!;
        Assert.Equal(2, strength.Origins.Count(origin => origin.IsAssumed));
        var force = UncertaintyOrigins.Of(Model, 400, null, new BenchInputs())!;
        Assert.DoesNotContain(force.Origins, origin => origin.IsAssumed);
        Assert.Equal(200 * ForceUncertainty.Of(Model, 400).StandardNewtons!.Value / 400, force.ExpandedPercent, 10);
    }

    // Bending of 5 % makes 98 % of the variance: nothing else would be noticed before it is mended, and then the caliper is.
    [Fact]
    public void Names_what_helps_next_where_one_thing_outweighs_all_others()
    {
        var origins = UncertaintyOrigins.Of(Model, 400, new SectionMeasurement { WidthsMillimetres = [10], ThicknessesMillimetres = [4] },
            new BenchInputs())!;
        Assert.Contains("load train", origins.Gains[0].Advice, StringComparison.Ordinal);
        Assert.StartsWith("With that done: Measure the sections with a micrometer", origins.Gains[1].Advice, StringComparison.Ordinal);
        Assert.True(origins.Gains[1].ExpandedPercent < 0.99 * origins.Gains[0].ExpandedPercent);
    }

    private static Run Pulled(BenchInputs? bench)
    {
        var reading = new TraceReading
        {
            Ending = PullEnding.Broken,
            PeakForceNewtons = 400,
            PeakForceStandardUncertaintyNewtons = 0.5,
            ZeroStandardUncertaintyNewtons = 0.3
        };
        double calibration = ForceUncertainty.Of(Model, 400).CalibrationStandardNewtons!.Value;
        var section = new SectionForStrength(40, 0.2, "per specimen") { CaliperSlopeMillimetres = 14 };
        return new Run
        {
            Head = AnyPull.Head with { Bench = bench },
            Ending = PullEnding.Broken,
            EndedAt = DateTimeOffset.UnixEpoch,
            RevisedAt = DateTimeOffset.UnixEpoch,
            Reading = reading,
            Strength = StrengthCalculation.Calculate(PullEnding.Broken, reading, section, new ForceForStrength(calibration, 500), bench),
        };
    }

    private static readonly Section Section = new(40, 0.2, "per specimen", []) { CaliperSlopeMillimetres = 14 };

    // The lines of a run add up to the ± that it keeps (JCGM 100, 5.1.2), from the calibration to the caliper.
    [Theory]
    [InlineData(null, null)]
    [InlineData(0.02, 1.0)]
    [InlineData(0.0, 0.0)]
    public void The_lines_of_a_run_add_up_to_what_it_keeps(double? caliper, double? bending)
    {
        Run run = Pulled(new BenchInputs { CaliperErrorMillimetres = caliper, BendingPercent = bending });
        var origins = UncertaintyOrigins.OfRun(run, Model, Section)!;
        Assert.Equal(200 * run.Strength!.StandardUncertaintyMegapascals / run.Strength.Megapascals, origins.ExpandedPercent, 10);
        Assert.Equal(100, origins.Origins.Sum(origin => origin.SharePercent), 9);
        Assert.Equal(origins.Origins.Select(origin => origin.SharePercent).OrderDescending(),
            origins.Origins.Select(origin => origin.SharePercent));
        Assert.Equal(caliper is null ? 2 : 0, origins.Origins.Count(origin => origin.IsAssumed));
        Assert.Equal(100 * 0.3 / 400, origins.Origins.Single(origin => origin.Stage == UncertaintyStage.Zero).StandardPercent, 10);
        Assert.Equal(100 * 0.4 / 400, origins.Origins.Single(origin => origin.Stage == UncertaintyStage.Peak).StandardPercent, 10);
    }

    [Fact]
    public void A_run_of_before_is_shown_with_what_is_usually_assumed()
    {
        Run run = Pulled(null);
        var origins = UncertaintyOrigins.OfRun(run, Model, Section)!;
        double own = run.Strength!.StandardUncertaintyMegapascals / run.Strength.Megapascals;
        double caliper = BenchInputs.AssumedCaliperErrorMillimetres / Math.Sqrt(3) * 14 / 40, bending = BenchInputs.AssumedBendingPercent
            / 100 / Math.Sqrt(3);
        Assert.Equal(200 * Math.Sqrt((own * own) + (caliper * caliper) + (bending * bending)), origins.ExpandedPercent, 10);
        Assert.Equal(2, origins.Origins.Count(origin => origin.IsAssumed));
        Assert.Contains(origins.Notes, note => note.Code == "bendingAssumed");
    }

    [Fact]
    public void A_recording_of_others_has_no_bench_of_ours()
    {
        Run run = Pulled(null);
        run = run with { Head = run.Head with { Recording = new RecordedSource("a.csv", "", "", "") } };
        Assert.DoesNotContain(UncertaintyOrigins.OfRun(run, null, Section)!.Origins, origin => origin.Stage is UncertaintyStage.Alignment
            or UncertaintyStage.Caliper or UncertaintyStage.Calibration);
    }
}
