using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Compliance;
using RigDaq.Text;

namespace RigDaq.Archive.Tests;

/// <summary>What is kept about the force besides the calibrations comes back, after a restart and after a rebuild from the
/// journal.</summary>
public sealed class DiaryTest : IDisposable
{
    private const string Device = "51570000000000aa", Other = "51570000000000ab";
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Machine_compliances_come_back_by_device_and_time_and_a_run_takes_the_one_before_it()
    {
        double[] forces = [.. Enumerable.Range(0, 100).Select(i => 2.0 * i)];
        ComplianceRecord first = Of(Device, Example.Start, 6e-4), later = Of(Device, Example.Start.AddDays(3), 7e-4),
            others = Of(Other, Example.Start, 1e-3);
        ComplianceRecord again = Of(Device, Example.Start.AddDays(5), 5e-4) with
        { MeasuredAt = first.MeasuredAt, RefittedFrom = first.Id, RefittedAt = Example.Start.AddDays(5), CalibrationId = "new" };
        var pulls = new BarPulls
        {
            ZeroCounts = 41_830.25,
            StepsPerMillimetre = 1600,
            Pulls = [new BarPullSamples { BedsIn = true, Microseconds = [0, 12_500], Counts = [-8_388_608, 8_388_607], Steps = [-3, 4] }],
        };
        using (RigArchive archive = Open())
        {
            archive.Compliances.Save(first.Id, pulls);
            archive.Compliances.Save(later);
            archive.Compliances.Save(others);
            archive.Compliances.Save(first);
            archive.Compliances.Save(again);
            Check(archive);
        }

        RigArchive.Rebuild(_folder.Path, TimeProvider.System, NullLogger.Instance, (_, _) => throw new InvalidOperationException());
        using (RigArchive archive = Open()) Check(archive);

        ComplianceRecord Of(string device, DateTimeOffset at, double give) => new()
        {
            Id = Guid.CreateVersion7(at).ToString(),
            DeviceId = device,
            MeasuredAt = at,
            Source = "a pull on the bar",
            Bar = new StiffBar(100, 40),
            Fit = ComplianceFit.Of([.. forces.Select(f => 30 + (give * f))], forces, 0, new StiffBar(100, 40)),
        };

        void Check(RigArchive archive)
        {
            Assert.Equal([first.Id, later.Id, again.Id], archive.Compliances.OfDevice(Device).Select(record => record.Id));
            Assert.Equal(4, archive.Compliances.OfDevice(null).Count);
            Same.Records(pulls, archive.Compliances.FindBarPulls(first.Id)!);
            Assert.Null(archive.Compliances.FindBarPulls(later.Id));
            // Fitted again it goes with its calibration, for runs after the first and before the next measurement.
            Assert.Equal(again.Id, archive.Compliances.InForceAt(Device, Example.Start.AddDays(2), "new")!.Id);
            Assert.Equal(first.Id, archive.Compliances.InForceAt(Device, Example.Start.AddDays(2), "old")!.Id);
            Assert.Equal(later.Id, archive.Compliances.InForceAt(Device, Example.Start.AddDays(6), "new")!.Id);
            Same.Records(others, archive.Compliances.Find(others.Id)!);
            Assert.Equal(first.Id, archive.Compliances.InForceAt(Device, Example.Start.AddDays(2))!.Id);
            Assert.Equal(later.Id, archive.Compliances.InForceAt(Device, Example.Start.AddDays(4))!.Id);
            Assert.Null(archive.Compliances.InForceAt(Device, Example.Start.AddDays(-1)));
        }
    }

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
            archive.Diary.Save(new WeightSet("bench", []));
            archive.Diary.Save(set);
            archive.Diary.Save(Device, guide);
            archive.Diary.Save(new CheckWeightPlan(Device, guide.Plan.Steps[0]));
            archive.Diary.Add(Device, new CheckWeightReading(Example.Start.AddDays(1), 9.81, "c1"));
            archive.Diary.Add(Device, new CheckWeightReading(Example.Start, 9.80, "c1"));
            archive.Diary.Add(Other, new CheckWeightReading(Example.Start, 1, "c2"));
            archive.Diary
                .Add(new CalibrationInvalidation(Example.Start, Device, InvalidationKind.Overload, Sentence.Verbatim("fell on it")));
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
            Same.Records(set, Assert.Single(archive.Diary.WeightSets()));
            Same.Records(guide, archive.Diary.FindGuide(Device)!);
            Assert.Null(archive.Diary.FindGuide(Other));
            Same.Records(guide.Plan.Steps[0], archive.Diary.FindCheckWeight(Device)!.Reference);
            Assert.Equal([9.80, 9.81], archive.Diary.CheckWeightReadings(Device).Select(r => r.ForceNewtons));
            Assert.Single(archive.Diary.CheckWeightReadings(Other));
            Assert.Equal(InvalidationKind.Overload, Assert.Single(archive.Diary.Invalidations(Device)).Kind);
        }
    }

    private RigArchive Open() => new(_folder.Path, TimeProvider.System, NullLogger.Instance);
}
