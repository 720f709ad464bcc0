using MathNet.Numerics.Distributions;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Tests.Calibration.Coverage;

/// <summary>Virtual calibrations with known truth: how often the 95 % interval of a force holds it. RIGDAQ_LONG=1 makes twenty times as
/// many.</summary>
public sealed class CoverageTest(ITestOutputHelper output)
{
    private static readonly int Calibrations = Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1" ? 40_000 : 2_000;

    private static readonly LocalGravity Measured = LocalGravity.Entered(9.8123, 2e-6);

    private static readonly BenchTruth[] All =
    [
        new() { Name = "noise, weights E2, gravity measured", Class = WeightClass.E2, Gravity = Measured, NoiseCounts = 200 },
        new() { Name = "noise, weights M1", NoiseCounts = 60 },
        new() { Name = "weights M1, quiet", NoiseCounts = 1 },
        new() { Name = "weights M3, quiet", Class = WeightClass.M3, NoiseCounts = 1 },
        new() { Name = "hanging anew, weights M1", NoiseCounts = 5, PlacementShare = 3e-4 },
        new() { Name = "all together", NoiseCounts = 12, PlacementShare = 1e-4, HysteresisShare = 3e-4, CreepShare = 3e-4,
            DriftCounts = 15 },
    ];

    public static TheoryData<int, double, double> Cases => new()
    {
        { 0, 0.93, 0.97 },
        { 1, 0.93, 0.97 },
        { 2, 0.93, 1 },
        { 3, 0.93, 1 },
        { 4, 0.93, 1 },
        { 5, 0.93, 1 },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_interval_of_a_force_holds_the_truth(int which, double least, double most)
    {
        var truth = All[which];
        var random = new Random(7_001 + which);
        int held = 0, slopeHeld = 0, curved = 0;
        double widths = 0;
        for (int i = 0; i < Calibrations; i++)
        {
            double share = 0.25 + (0.7 * random.NextDouble());
            var (fit, read, force) = VirtualCalibration.Make(truth, random, share);
            var uncertainty = ForceUncertainty.Of(fit.Uncertainty, read, LoadWay.Unknown);
            if (Math.Abs(read - force) <= uncertainty.ExpandedNewtons!.Value) held++;
            widths += uncertainty.ExpandedPercent!.Value / Calibrations;

            // What the standard error of a1 alone would have claimed.
            double k = StudentT.InvCDF(0, 1, fit.Polynomial.DegreesOfFreedom, 0.975);
            if (Math.Abs(fit.Polynomial.Coefficients[0] - (1 / VirtualCalibration.CountsPerNewton)) <= k
                * fit.Polynomial.StandardErrors[0]) slopeHeld++;
            if (fit.Figures.DegreeAdvice.AsKept().StartsWith("A curve of degree 2 is worth", StringComparison.Ordinal)) curved++;
        }

        double coverage = (double)held / Calibrations;
        output.WriteLine(FormattableString.Invariant(
            $"{truth.Name}: held {100 * coverage:0.0} %, mean U {widths:0.000} %; slope by noise alone {100.0 * slopeHeld / Calibrations:0.0} %; degree 2 called for {100.0 * curved / Calibrations:0.0} %"));
        Assert.InRange(coverage, least, most);

        // The cell is straight: a curve is called for no oftener than the test's level allows.
        if (truth.HysteresisShare == 0) Assert.InRange((double)curved / Calibrations, 0, 0.07);
    }
}
