using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Configuration;
using RigDaq.App.Reporting;
using RigDaq.Archive;
using RigDaq.Core.Specimens;

namespace RigDaq.Daemon.Tests.Dashboard;

/// <summary>What the pages, the next sequence and a re-publication are about: the study that is worked on, at once.</summary>
public sealed class DashboardDataTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-data-").FullName;
    private readonly RigArchive _archive;
    private readonly DashboardData _data;

    public DashboardDataTest()
    {
        _archive = new RigArchive(_folder, TimeProvider.System, NullLogger.Instance);
        _data = new DashboardData(_archive, new DaemonOptions { Name = "bench", Data = _folder }, TimeProvider.System);
    }

    public void Dispose()
    {
        _archive.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public void Everything_follows_the_choice_from_the_next_look_on()
    {
        Assert.Null(_data.NextPlan());
        Make("first", 0);
        Make("second", 1);
        Check("second");
        _archive.Studies.Choose("first");
        Check("first");
        // What is made afterwards waits until somebody says so.
        Make("third", 2);
        Check("first");
        _archive.Studies.Choose(null);
        Check("third");
    }

    [Fact]
    public void The_version_rises_when_the_study_changes_and_stays_when_something_else_was_kept()
    {
        Core.Specimens.Study study = Make("first", 0);
        long before = _data.Version;
        _archive.Diary.Add("device", new Core.Calibration.Watching.CheckWeightReading(DateTimeOffset.UnixEpoch, 49, "calibration"));
        Assert.Equal(before, _data.Version);
        _archive.Studies.Save(StudyCorrections.RenameCondition(study, "fan on", "fan at full"), "clearer");
        Assert.Equal(before + 1, _data.Version);
        Assert.Contains(_data.Study()!.Groups, group => group.Group.Condition == "fan at full");
    }

    private Core.Specimens.Study Make(string id, int day)
    {
        Core.Specimens.Study study = (StudyPlanOf(id) with { Name = id }).Make(DateTimeOffset.UnixEpoch.AddDays(day));
        _archive.Studies.Save(study, "made");
        return study;
    }

    private static StudyPlan StudyPlanOf(string id) => new()
    {
        Id = id,
        Name = id,
        Materials = [new MaterialRecord("Alder", "PLA")],
        Conditions = ["fan on", "fan off"],
        SpecimensPerStretch = 3,
        Seed = 1,
    };

    private void Check(string id)
        => Assert.Equal((id, id, id), (_data.Study()!.Id, _data.NextPlan()!.StudyId, _data.StudyRuns()!.Value.Study.Id));
}
