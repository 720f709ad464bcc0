using System.Text.Json;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Recording;
using RigDaq.Archive;
using RigDaq.Archive.Storage;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Recording;

/// <summary>
/// The real recorder on a real archive whose disk fails once, at any flush: what resuming does then. The clock goes on between the tries,
/// and the cell was loaded beyond its full scale, so that a note goes with the run.
/// </summary>
public sealed class RecordingAgainTest : IDisposable
{
    private const int FlushesMax = 60;
    private readonly List<string> _folders = [];

    public void Dispose() => _folders.ForEach(folder => Directory.Delete(folder, recursive: true));

    [Fact]
    public void A_disk_that_fails_once_at_any_flush_leaves_one_run_one_note_and_one_message_after_resuming()
    {
        string expected = Json(Recorded(failing: 0, flushed: false, out _, out int flushes));
        Assert.InRange(flushes, 5, FlushesMax);
        for (int failing = 1; failing <= flushes; failing++)
        {
            // A flush may also have been done and only its answer be a failure.
            foreach (bool flushed in new[] { false, true })
            {
                Run run = Recorded(failing, flushed, out int tries, out _);
                Assert.Equal(2, tries);
                Assert.Equal(expected, Json(run));
            }
        }
    }

    [Fact]
    public void A_listener_that_fails_keeps_neither_the_run_nor_the_next_listener_from_it()
    {
        using RigArchive archive = Filled(new DiskSync(), out PullRecord pull);
        PullRecorder recorder = Recorder(archive, new FakeTimeProvider());
        int heard = 0;
        recorder.Stored += _ => throw new InvalidOperationException("no ears");
        recorder.Stored += _ => heard++;
        recorder.Record(pull);
        Assert.Equal(1, heard);
        Assert.Single(archive.Runs.Latest(10));
    }

    [Fact]
    public void A_study_changed_between_two_tries_does_not_hinder_the_second()
    {
        using RigArchive archive = Filled(new DiskSync(), out PullRecord pull);
        PullRecorder recorder = Recorder(archive, new FakeTimeProvider());
        Run first = recorder.Record(pull);
        archive.Studies
            .Change(pull.Head.StudyId, study => study with { Specimens = [.. study.Specimens.Select(s => s with { Section = null })] },
            "not measured after all");
        Assert.Equal(Json(first), Json(recorder.Record(pull)));
    }

    private Run Recorded(int failing, bool flushed, out int tries, out int flushes)
    {
        var disk = new FailingOnce();
        var time = new FakeTimeProvider(PulledStudy.Start);
        using RigArchive archive = Filled(disk, out PullRecord pull);
        PullRecorder recorder = Recorder(archive, time);
        disk.Begin(failing, flushed);
        Run? run = null;
        for (tries = 1; run is null && tries <= 2; tries++)
        {
            try
            {
                run = recorder.Record(pull);
            }
            catch (IOException)
            {
                time.Advance(TimeSpan.FromMinutes(7));
            }
        }

        tries--;
        flushes = disk.Flushes;
        Assert.NotNull(run);
        Assert.Equal(1, archive.Outbox.Count);
        Assert.Equal(Json(run), Json(Assert.Single(archive.Runs.Latest(10))));
        Assert.Single(archive.Runs.Revisions(pull.Head.RunId));
        Assert.Single(archive.Diary.Invalidations(WorkshopCalibration.DeviceId));
        Assert.Single(archive.Studies.Versions(pull.Head.StudyId), version => version.Study.PlanFrozenAt is not null);
        Assert.Empty(archive.Verify());
        return run;
    }

    private static PullRecorder Recorder(RigArchive archive, TimeProvider time) =>
        new(archive, time, NullLogger.Instance);

    private RigArchive Filled(DiskSync disk, out PullRecord pull)
    {
        (Core.Specimens.Study study, CalibrationRecord calibration, pull) = Source();
        string folder = Directory.CreateTempSubdirectory("rigdaq-recording-").FullName;
        _folders.Add(folder);
        var archive = new RigArchive(folder, new FakeTimeProvider(PulledStudy.Start), NullLogger.Instance, disk);
        archive.Studies.Save(study with { PlanFrozenAt = null }, "made");
        archive.Calibrations.Save(calibration with
        { Uncertainty = calibration.Uncertainty! with { Inputs = calibration.Uncertainty.Inputs with { FullScaleNewtons = 100 } } });
        return archive;
    }

    private (Core.Specimens.Study, CalibrationRecord, PullRecord) Source()
    {
        string folder = Directory.CreateTempSubdirectory("rigdaq-recording-").FullName;
        _folders.Add(folder);
        using var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance);
        PulledStudy.Fill(archive, specimensAPrint: 1, loadingSeconds: 1);
        return (archive.Studies.All()[0], archive.Calibrations.OfDevice(WorkshopCalibration.DeviceId)[0],
            archive.Runs.FindPull(archive.Runs.OfStudy(PulledStudy.Id)[0].Head.RunId)!);
    }

    private static string Json(Run run) => JsonSerializer.Serialize(run);
}
