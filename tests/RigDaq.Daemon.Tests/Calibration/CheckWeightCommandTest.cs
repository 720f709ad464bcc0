using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Daemon.Commands;
using RigDaq.Rig.Links;
using RigDaq.Text;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Daemon.Tests.Calibration;

/// <summary>The daily check weight, read on the virtual rig in process.</summary>
public sealed class CheckWeightCommandTest : IDisposable
{
    private const double MassKilograms = 20;
    private static readonly LocalGravity Gravity = LocalGravity.At(52.2, 34);
    private static readonly AirDensity Air = AirDensity.AtHeight(34);
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-check-weight-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData(1.0, CheckWeightVerdict.Baseline)]
    [InlineData(1.01, CheckWeightVerdict.Outside)] // The cell has changed by 1 %: far beyond what calibration and weight leave open.
    public async Task A_cell_that_has_changed_asks_for_a_new_calibration(double changedBy, CheckWeightVerdict expected)
    {
        var options = new VirtualRigOptions { Seed = 5, TimeScale = 20 };
        await using var virtualRig = new VirtualRig(options, TimeProvider.System);
        using var archive = new RigArchive(_folder, TimeProvider.System, NullLogger.Instance);
        archive.Calibrations.Save(TrueCalibration(options));
        ReferenceForce reference = ReferenceForces.Hanging([Weight.OfClass("20 kg", MassKilograms, WeightClass.M1)], Gravity, Air);

        (double newtons, CheckWeight says) = await CheckWeightCommand.RunAsync(
            archive, new PipeRigLinkOpener("virtual rig", virtualRig.ConnectInProcess), reference, Hang, TimeProvider.System,
                TestContext.Current.CancellationToken);

        Assert.Equal(expected, says.Verdict);
        Assert.Equal(reference.Newtons * changedBy, newtons, 0.2);
        Assert.Equal(newtons, Assert.Single(archive.Diary.CheckWeightReadings(DeviceId(options))).ForceNewtons);

        void Hang(Sentence said)
        {
            if (said.Code == "checkWeightHang")
                virtualRig.HangMass(MassKilograms * changedBy, Gravity.MetresPerSecondSquared, airDensity: Air.KilogramsPerCubicMetre);
        }
    }

    private static string DeviceId(VirtualRigOptions options)
        => options.DeviceId.ToString("x16", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>The virtual cell's own curve, with an uncertainty as a plain calibration to 900 N has it.</summary>
    private static CalibrationRecord TrueCalibration(VirtualRigOptions options)
    {
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        return new CalibrationRecord
        {
            Id = Guid.CreateVersion7(now).ToString(),
            DeviceId = DeviceId(options),
            AcceptedAt = now,
            ValidUntil = now.AddYears(1),
            Curve = new ForceCurve([options.NewtonsPerCount]),
            GreatestReferenceNewtons = 900,
            NoiseCounts = options.NoiseCounts,
            Uncertainty = new Core.Calibration.Quality.UncertaintyModel
            {
                Coefficients = [options.NewtonsPerCount],
                ScatterCovariance = [[1e-20]],
                ScatterDegreesOfFreedom = 20,
                ReferenceShifts = [],
                GreatestReferenceNewtons = 900,
                ResolutionCounts = 200,
                ReversibilityNewtons = [],
                ZeroDriftNewtons = 0.1,
                CreepPercent = 0.02,
                Inputs = new(),
            },
        };
    }
}
