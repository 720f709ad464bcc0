using RigDaq.App.Alarms;
using RigDaq.App.Journal;
using RigDaq.App.Recording;
using RigDaq.Core.Callers;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Daemon.Hosting;

/// <summary>Looks on at the rig, its disk and its archive: what a person should see now becomes an alarm, and what happened is written
/// down.</summary>
internal sealed class AlarmWatch : IAsyncDisposable
{
    /// <summary>Below so many megabytes of free disk it is an alarm.</summary>
    public const double DiskLowMegabytes = 1_024;

    /// <summary>How often the disk is looked at, and that written down.</summary>
    public static readonly TimeSpan DiskEvery = TimeSpan.FromMinutes(30);

    /// <summary>What lasts is told again so often: nobody may have listened when it was found.</summary>
    public static readonly TimeSpan Again = TimeSpan.FromHours(1);

    /// <summary>How many snapshots may wait: every change is to be seen, while the machine is not hopelessly behind.</summary>
    private const int SnapshotsMax = 64;

    private readonly AlarmDesk _desk;
    private readonly HappeningBook _book;
    private readonly PullRecorder _recorder;
    private readonly AlarmSources _sources;
    private readonly TimeProvider _time;
    private readonly Onlooker _onlooker;
    private readonly ITimer _disk;
    private SequenceStage? _stage;
    private string? _sequence;
    private string? _held;
    private bool? _up;
    private string? _toldTrouble;
    private long _troubleAt;
    private long? _diskAt;

    /// <param name="rig">What is looked at.</param>
    /// <param name="desk">Where alarms go.</param>
    /// <param name="book">Where what happened is written down.</param>
    /// <param name="recorder">Tells of runs that were stored.</param>
    /// <param name="sources">What is looked at besides.</param>
    /// <param name="time">The clock.</param>
    /// <param name="failed">Hears what went wrong in looking.</param>
    public AlarmWatch(RigController rig, AlarmDesk desk, HappeningBook book, PullRecorder recorder, AlarmSources sources, TimeProvider time,
        Action<Exception> failed)
    {
        (_desk, _book, _recorder, _sources, _time) = (desk, book, recorder, sources, time);
        _onlooker = new Onlooker(rig, SnapshotsMax, Look, failed);
        _recorder.Stored += LookAtRun;
        _disk = time.CreateTimer(_ => LookAtDisk(), null, TimeSpan.Zero, DiskEvery);
    }

    public async ValueTask DisposeAsync()
    {
        _recorder.Stored -= LookAtRun;
        await _disk.DisposeAsync().ConfigureAwait(false);
        await _onlooker.DisposeAsync().ConfigureAwait(false);
    }

    private void Look(RigSnapshot snapshot)
    {
        LookAtTrouble();
        LookAtLink(snapshot);
        SequenceSnapshot? sequence = snapshot.Sequence;
        // Held for another reason is another hold.
        string? held = sequence is { Stage: SequenceStage.Held } ? sequence.Reason.AsKept() : null;
        if (sequence?.Stage == _stage && sequence?.Plan.SequenceId == _sequence && held == _held) return;
        bool isNew = sequence is not null && sequence.Plan.SequenceId != _sequence;
        (_stage, _sequence, _held) = (sequence?.Stage, sequence?.Plan.SequenceId, held);
        if (sequence is null) return;
        if (isNew) Note(HappeningKind.Sequence, "started", sequence.Plan.StudyId);
        if (_stage == SequenceStage.Finished) Note(HappeningKind.Sequence, "finished", sequence.Plan.StudyId);
        if (held is not null) _desk.Raise(AlarmKinds.SequenceHeld, held, held: true);
    }

    private void LookAtLink(RigSnapshot snapshot)
    {
        bool up = snapshot.Link == LinkStage.Up;
        bool? before = _up;
        if (up == before) return;
        _up = up;
        if (up) Note(HappeningKind.Link, "up", snapshot.Device?.Name ?? "");
        // Before it was ever up nothing was lost.
        else if (before == true) _desk.Raise(AlarmKinds.LinkLost, snapshot.LinkMessage.AsKept(),
            held: snapshot.Sequence is { Stage: not SequenceStage.Finished });
    }

    private void LookAtRun(Run run)
    {
        if (run.Ending is PullEnding.Broken or PullEnding.PartlyBroken or PullEnding.Unbroken) return;
        string text = TerminalText.ServeOddEnding(run.Head.SpecimenId, run.Ending.Word(), run.Reason);
        _desk.Raise(AlarmKinds.PullEndedOddly, text, held: false);
    }

    private void LookAtTrouble()
    {
        string? trouble = _sources.Trouble();
        if (trouble is not null && (trouble != _toldTrouble || _time.GetElapsedTime(_troubleAt) >= Again))
        {
            _troubleAt = _time.GetTimestamp();
            _desk.Raise(AlarmKinds.DatabaseDamaged, trouble, held: false);
        }

        _toldTrouble = trouble;
    }

    private void LookAtDisk()
    {
        if (_sources.FreeMegabytes() is not { } left) return;
        _book.Note(new Happening { At = default, Kind = HappeningKind.Disk, Code = "disk", FreeMegabytes = left });
        if (left >= DiskLowMegabytes) _diskAt = null;
        else if (_diskAt is not { } told || _time.GetElapsedTime(told) >= Again)
        {
            _diskAt = _time.GetTimestamp();
            _desk.Raise(AlarmKinds.DiskLow, TerminalText.ServeDiskLow(left), held: false);
        }
    }

    private void Note(HappeningKind kind, string code, string words) =>
        _book.Note(new Happening { At = default, Kind = kind, Code = code, Words = words });
}
