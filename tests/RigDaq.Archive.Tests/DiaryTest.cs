using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;

namespace RigDaq.Archive.Tests;

/// <summary>What is kept about the force besides the calibrations comes back, after a restart and after a rebuild from the journal.</summary>
public sealed class DiaryTest : IDisposable
{
    private const string Device = "51570000000000aa", Other = "51570000000000ab";
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Weights_check_readings_and_a_paused_calibration_come_back_from_database_and_journal()
    {
        WeightSet set = new("bench", [Weight.OfClass("1 kg", 1, WeightClass.M1), Weight.Improvised("plate", 10, 0.05)]);
        (GuideState guide, _) = CalibrationGuide.Begin(new GuidePlan
        {
            Steps = [.. set.Weights.Select(w => ReferenceForces.Hanging([w], LocalGravity.At(52, 30), AirDensity.AtHeight(30)))],
        });
        using (RigArchive archive = Open())
        {
            archive.Save(new WeightSet("bench", []));
            archive.Save(set);
            archive.Save(Device, guide);
            archive.Save(new CheckWeightPlan(Device, guide.Plan.Steps[0]));
            archive.Add(Device, new CheckWeightReading(Example.Start.AddDays(1), 9.81, "c1"));
            archive.Add(Device, new CheckWeightReading(Example.Start, 9.80, "c1"));
            archive.Add(Other, new CheckWeightReading(Example.Start, 1, "c2"));
            archive.Add(new CalibrationInvalidation(Example.Start, Device, InvalidationKind.Overload, "fell on it"));
            Check(archive);
        }

        using (RigArchive archive = Open()) Check(archive);
        RigArchive.Rebuild(_folder.Path, TimeProvider.System, NullLogger.Instance, (_, _) => throw new InvalidOperationException());
        using (RigArchive archive = Open())
        {
            Check(archive);
            Assert.Empty(archive.Verify());
        }

        void Check(RigArchive archive)
        {
            Same.Records(set, Assert.Single(archive.WeightSets()));
            Same.Records(guide, archive.FindGuide(Device)!);
            Assert.Null(archive.FindGuide(Other));
            Same.Records(guide.Plan.Steps[0], archive.FindCheckWeight(Device)!.Reference);
            Assert.Equal([9.80, 9.81], archive.CheckWeightReadings(Device).Select(r => r.ForceNewtons));
            Assert.Single(archive.CheckWeightReadings(Other));
            Assert.Equal(InvalidationKind.Overload, Assert.Single(archive.Invalidations(Device)).Kind);
        }
    }

    private RigArchive Open() => new(_folder.Path, TimeProvider.System, NullLogger.Instance);
}
