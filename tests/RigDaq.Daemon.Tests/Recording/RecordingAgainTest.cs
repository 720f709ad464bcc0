using System.Text.Json;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Recording;
using RigDaq.Archive;
using RigDaq.Archive.Storage;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Recording;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
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
        string expected = Json(Recorded(failing: 0, out _, out int flushes));
        Assert.InRange(flushes, 5, FlushesMax);
        for (int failing = 1; failing <= flushes; failing++)
        {
            Run run = Recorded(failing, out int tries, out _);
            Assert.Equal(2, tries);
            Assert.Equal(expected, Json(run));
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
        Assert.Single(archive.Latest(10));
    }

    [Fact]
    public void A_study_changed_between_two_tries_does_not_hinder_the_second()
    {
        using RigArchive archive = Filled(new DiskSync(), out PullRecord pull);
        PullRecorder recorder = Recorder(archive, new FakeTimeProvider());
        Run first = recorder.Record(pull);
        archive.Change(pull.Head.StudyId, study => study with { Specimens = [.. study.Specimens.Select(s => s with { Section = null })] },
            "not measured after all");
        Assert.Equal(Json(first), Json(recorder.Record(pull)));
    }

    /// <summary>The answer of a step can be lost after the step was done; what fails need not be a disk.</summary>
    [Theory]
    [InlineData(nameof(IRunArchive.Store))]
    [InlineData(nameof(IStudyArchive.Change))]
    [InlineData(nameof(ICalibrationDiary.Add))]
    public void A_step_that_fails_once_it_was_done_is_done_once(string step)
    {
        using RigArchive archive = Filled(new DiskSync(), out PullRecord pull);
        var once = new Once(step);
        var recorder = new PullRecorder(
            LosingAnswer<IRunArchive>.Of(archive, once), LosingAnswer<IStudyArchive>.Of(archive, once), archive,
                LosingAnswer<ICalibrationDiary>.Of(archive, once),
            new FakeTimeProvider(), NullLogger.Instance, archive);
        Assert.Throws<InvalidOperationException>(() => recorder.Record(pull));
        Run run = recorder.Record(pull);
        Assert.Equal(Json(run), Json(Assert.Single(archive.Latest(10))));
        Assert.Single(archive.Revisions(pull.Head.RunId));
        Assert.Equal(1, archive.Count);
        Assert.Single(archive.Invalidations(WorkshopCalibration.DeviceId));
        Assert.Single(archive.Versions(pull.Head.StudyId), version => version.Study.PlanFrozenAt is not null);
    }

    private Run Recorded(int failing, out int tries, out int flushes)
    {
        var disk = new FailingOnce();
        var time = new FakeTimeProvider(PulledStudy.Start);
        using RigArchive archive = Filled(disk, out PullRecord pull);
        PullRecorder recorder = Recorder(archive, time);
        disk.Begin(failing);
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
        Assert.Equal(1, archive.Count);
        Assert.Equal(Json(run), Json(Assert.Single(archive.Latest(10))));
        Assert.Single(archive.Revisions(pull.Head.RunId));
        Assert.Single(archive.Invalidations(WorkshopCalibration.DeviceId));
        Assert.Single(archive.Versions(pull.Head.StudyId), version => version.Study.PlanFrozenAt is not null);
        Assert.Empty(archive.Verify());
        return run;
    }

    private static PullRecorder Recorder(RigArchive archive, TimeProvider time) =>
        new(archive, archive, archive, archive, time, NullLogger.Instance, archive);

    private RigArchive Filled(DiskSync disk, out PullRecord pull)
    {
        (Core.Specimens.Study study, CalibrationRecord calibration, pull) = Source();
        string folder = Directory.CreateTempSubdirectory("rigdaq-recording-").FullName;
        _folders.Add(folder);
        var archive = new RigArchive(folder, new FakeTimeProvider(PulledStudy.Start), NullLogger.Instance, disk);
        archive.Save(study with { PlanFrozenAt = null }, "made");
        archive.Save(calibration with
        { Uncertainty = calibration.Uncertainty! with { Inputs = calibration.Uncertainty.Inputs with { FullScaleNewtons = 100 } } });
        return archive;
    }

    private (Core.Specimens.Study, CalibrationRecord, PullRecord) Source()
    {
        string folder = Directory.CreateTempSubdirectory("rigdaq-recording-").FullName;
        _folders.Add(folder);
        using var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance);
        PulledStudy.Fill(archive, specimensAPrint: 1, loadingSeconds: 1);
        return (archive.All()[0], archive.OfDevice(WorkshopCalibration.DeviceId)[0],
            archive.FindPull(archive.OfStudy(PulledStudy.Id)[0].Head.RunId)!);
    }

    private static string Json(Run run) => JsonSerializer.Serialize(run);
}

/// <summary>The step whose answer is lost, the first time.</summary>
internal sealed class Once(string step)
{
    private bool _isOver;

    public bool Loses(string name) => !_isOver && (_isOver = name == step);
}

/// <summary>A room that does what it is asked and whose answer then does not come.</summary>
[System.Diagnostics.CodeAnalysis.SuppressMessage("Performance", "CA1852", Justification = "The proxy inherits from it.")]
internal class LosingAnswer<T> : System.Reflection.DispatchProxy
    where T : class
{
    private T _inner = null!;
    private Once _once = null!;

    public static T Of(T inner, Once once)
    {
        var proxy = (LosingAnswer<T>)(object)Create<T, LosingAnswer<T>>();
        (proxy._inner, proxy._once) = (inner, once);
        return (T)(object)proxy;
    }

    protected override object? Invoke(System.Reflection.MethodInfo? targetMethod, object?[]? args)
    {
        object? answer = targetMethod!.Invoke(_inner, args);
        return _once.Loses(targetMethod.Name) ? throw new InvalidOperationException("the answer is lost") : answer;
    }
}
