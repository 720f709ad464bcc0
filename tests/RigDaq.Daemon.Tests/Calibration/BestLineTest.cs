using System.Globalization;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Text;
using RigDaq.Virtual;

namespace RigDaq.Daemon.Tests.Calibration;

/// <summary>
/// <c>rigdaq calibrate --best-line</c>: the data sheet's non-linearity is of the best straight line and not of the terminal line. It widens
/// the interval beyond the references, and leaves the calibration's own line as it is.
/// </summary>
[Collection(nameof(PrintedOutput))]
public sealed class BestLineTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(90);

    // NIST StRD, linear regression, data set NoInt1 (a line through the origin): y = 130 to 140 at x = 60 to 70. Certified: B1 =
    // 2.07438016528926, residual standard deviation 3.56753034006338.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task The_line_that_is_accepted_is_the_certified_one_with_or_without_it(bool bestLine)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        await using var bench = new VirtualBench();
        string rows = string
            .Concat(Enumerable.Range(60, 11).Select(x => string.Create(CultureInfo.InvariantCulture, $"1,rising,{x + 70},{x}\n")));
        string readings = bench.WriteFile("no-int-1.csv", "series,direction,reference_N,counts\n1,,0,0\n" + rows);
        bench.Type("accept");
        int status = await bench
            .RunAsync(Bound, ["calibrate", "--degree", "1", "--readings", readings, "--full-scale-N", "1000", "--non-linearity-percent",
            "0.03", .. Option(bestLine)]);
        Assert.True(status == 0, string.Join("\n", bench.Said));
        CalibrationRecord record = Kept(bench);
        Assert.Equal(2.07438016528926, Assert.Single(record.Curve.Coefficients), 14);
        var fit = CalibrationFit.Of(record.Readings, record.Fit, record.Uncertainty!.Inputs);
        Assert.Equal(3.56753034006338, fit.Polynomial.ResidualStandardDeviation, 14);
        Assert.Equal(new UncertaintyInputs { FullScaleNewtons = 1000, NonLinearityPercent = 0.03, NonLinearityOfBestLine = bestLine },
            record.Uncertainty.Inputs);
    }

    // A cell that bends as a parabola leaves its terminal line by twice of what it leaves its best line by: on [0, 1] the best line to x²
    // is x − 1/8, at most 1/8 off, and x is at most 1/4 off (Chebyshev; from memory). Its data sheet may say 0.1 % of the best line or 0.2
    // % of the terminal line. Waits for wall time: the line, the control loop and the rig are the real ones.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Beyond_the_references_the_interval_holds_a_bent_cells_force_only_if_it_is_said(bool bestLine)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        var cell = new VirtualRigOptions
        {
            CellCapacityNewtons = 2000,
            NonLinearityPercentOfCapacity = 0.2,
            CreepPercent = 0,
            DriftCountsPerHour = 0
        };
        await using var bench = new VirtualBench(cell);
        string weights = bench.WriteFile("two.csv", "name,mass_kg,class\n20 kg no. 1,20,M1\n20 kg no. 2,20,M1\n");
        int status = await bench.RunAsync(Bound, ["calibrate", "--weights", weights, "--steps", "2", "--quick", "--warm-up-s", "10",
            "--full-scale-N", "2000", "--non-linearity-percent", "0.1", .. Option(bestLine)]);
        Assert.True(status == 0, string.Join("\n", bench.Said));
        CalibrationRecord record = Kept(bench);

        // The line of least squares through zero, Σ(counts·force)/Σcounts², of what the bent cell shows for 20 and 40 kg: the same either
        // way.
        double[] forces = [.. new[] { 20.0, 40.0 }.Select(kilograms => Hanging(kilograms).Newtons)];
        double[] counts = [.. forces.Select(force => (force + (4 * 0.002 * force * (1 - (force / 2000)))) / cell.NewtonsPerCount)];
        double slope = counts.Zip(forces, (x, y) => x * y).Sum() / counts.Sum(x => x * x);
        Assert.Equal(slope, Assert.Single(record.Curve.Coefficients), slope * 1e-4);

        const double Kilograms = 180;
        ReferenceForce truth = Hanging(Kilograms);
        using var archive = new RigArchive(bench.Folder, TimeProvider.System, NullLogger.Instance);
        (double newtons, _) = await CheckWeightCommand.RunAsync(archive, bench.Link, truth, Hang, TimeProvider.System,
            TestContext.Current.CancellationToken);
        double expanded = record.UncertaintyAt(newtons)!.ExpandedNewtons!.Value;

        // The cell stands at the very end of what its sheet admits: an interval of 95 % of a bound ends a twentieth before it.
        Assert.Equal(bestLine, Math.Abs(newtons - truth.Newtons) <= expanded / ForceUncertainty.Coverage);

        void Hang(Sentence said)
        {
            if (said.Code == "checkWeightTakeOff") bench.Rig.TakeMassOff();
            if (said.Code == "checkWeightHang")
                bench.Rig.HangMass(Kilograms, VirtualBench.Gravity.MetresPerSecondSquared,
                    airDensity: VirtualBench.Air.KilogramsPerCubicMetre);
        }
    }

    private static string[] Option(bool bestLine) => bestLine ? ["--best-line"] : [];

    private static ReferenceForce Hanging(double kilograms) =>
        ReferenceForces.Hanging([.. Enumerable.Range(1, (int)(kilograms / 20))
            .Select(i => Weight.OfClass($"20 kg no. {i}", 20, WeightClass.M1))], VirtualBench.Gravity, VirtualBench.Air);

    private static CalibrationRecord Kept(VirtualBench bench)
    {
        using var archive = new RigArchive(bench.Folder, TimeProvider.System, NullLogger.Instance);
        return Assert.Single(archive.Calibrations.OfDevice(bench.Rig.Options.DeviceId.ToString("x16", CultureInfo.InvariantCulture)));
    }
}
