using RigDaq.App.Recording;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Messages;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Night;

/// <summary>
/// A night by a seed, on one virtual clock: a virtual device on a cable that fails, the real session, control loop and sequencer,
/// the real recorder, the real archive on a disk that is full, failing at any flush or torn, the real outbox before a broker that
/// fails, a wall clock that is set to and fro, a person who does what is asked and sometimes what is not; and a process that is
/// killed, cut off or ended at any step, also in the middle of storing, and started again.
/// </summary>
internal sealed partial class SimulatedNight : IDisposable
{
    private const int SpecimensOfSequence = 3;
    private const int EndStepsMax = 400;
    private const int DrainsMax = 100;
    private const string StudyId = "s";

    // About one thing that goes wrong in so many steps of 25 ms.
    private const int StepsADisturbance = 45;
    private const int StepsAKill = 160;
    private const int StepsDeadMax = 30;

    // A run or two: the journal is packed over and over.
    private const long PackAtBytes = 6_000;
    private static readonly string DeviceId = WorkshopCalibration.DeviceId.ToUpperInvariant();

    // Fitted once for all nights.
    private static readonly CalibrationRecord Calibrated = WorkshopCalibration.Make(PulledStudy.Start.AddDays(-3));

    private readonly Sabotage _sabotage;
    private readonly Random _random;
    private readonly NightDisk _disk;
    private readonly NightBroker _broker;
    private readonly NightClock _clock = new(PulledStudy.Start);
    private readonly NightRig _rig;
    private readonly NightLog _log = new();
    private readonly List<PullHead> _begun = [];
    private readonly Dictionary<string, Run> _acknowledged = [];
    private readonly Dictionary<string, int> _samplesKept = [];
    private readonly DateTimeOffset _calibratedUntil;
    private RigArchive _archive = null!;
    private PullRecorder _recorder = null!;
    private NightOutbox _outbox = null!;
    private int _diskIllFor;

    public SimulatedNight(int seed, Sabotage sabotage = Sabotage.Nothing)
    {
        _sabotage = sabotage;
        _random = new Random(seed);
        _disk = new NightDisk(new Random(seed + 1));
        _broker = new NightBroker(new Random(seed + 2));
        // A night in four ends with the calibration's time over.
        _calibratedUntil = seed % 4 == 3 || sabotage == Sabotage.PullsWithoutCalibration ? PulledStudy.Start.AddSeconds(6)
            : PulledStudy.Start.AddYears(1);
        _rig = new NightRig(KindOf(seed, sabotage), seed, _clock, sabotage)
        { StudyId = StudyId, IsCalibrated = () => _clock.GetUtcNow() < _calibratedUntil };
        _archive = new RigArchive(_disk.LivePath, _clock, _log, _disk, packAtBytes: PackAtBytes);
        _archive.Calibrations.Save(Calibrated with { DeviceId = DeviceId, ValidUntil = _calibratedUntil });
        _archive.Studies.Save(StudyOfNight(), "made");
        Join();
    }

    public int Kills { get; private set; }

    public int PowerCuts { get; private set; }

    public int DeathsInMidStoring { get; private set; }

    /// <summary>Writes of journal and captures that ended in their middle.</summary>
    public int CutWrites => _disk.CutWrites;

    /// <summary>Pulls that waited for a slow disk.</summary>
    public int SlowWaits => _rig.Slow.Waits;

    /// <summary>What happened last, for a failure to be understood.</summary>
    public string History => string.Join('\n', _rig.History);

    public int Begun => _begun.Count;

    public int Acknowledged => _acknowledged.Count;

    public int Breaks => _rig.Breaks;

    /// <summary>Runs that were stored as broken.</summary>
    public int Broken { get; private set; }

    public int NotStoredAtFirst { get; private set; }

    public int Disturbances { get; private set; }

    /// <summary>Runs the night and holds it to what must always hold, after every step.</summary>
    public void Run(int steps)
    {
        for (int step = 0; step < steps; step++)
        {
            _rig.Step();
            if (_random.Next(StepsADisturbance) == 0) Disturb();
            if (_random.Next(4) == 0) Publish();
            HoldAfterStep();
            if (_disk.IsDead || _random.Next(StepsAKill) == 0) KillAndStartAgain();
            else if (_random.Next(4 * StepsAKill) == 0) EndAndStartAgain();
        }

        // Morning: nothing fails any more, the program is ended and started once more, and a listener hears what waited.
        _broker.MayFail = false;
        (_disk.FailingShare, _disk.DiesAfterFlushes, _disk.DiesAfterWrites) = (0, null, null);
        EndAndStartAgain();
        for (int pass = 0; _archive.Outbox.Count > 0 && pass < DrainsMax; pass++) Publish();
        Hold(_archive.Outbox.Count == 0, "messages wait though a broker takes all of them");
        IReadOnlyList<Run> stored = _archive.Runs.OfStudy(StudyId);
        foreach (Run run in stored) Hold(_broker.HasHeard(run.Head.RunId), $"run {run.Head.RunId} was never published");
        Broken = stored.Count(run => run.Ending == PullEnding.Broken);
        Hold(Broken <= _rig.Breaks, $"{Broken} runs say broken and {_rig.Breaks} specimens broke");
    }

    public void Dispose()
    {
        _archive.Dispose();
        _rig.Dispose();
        _disk.Dispose();
    }

    private static NightKind KindOf(int seed, Sabotage sabotage) => sabotage switch
    {
        Sabotage.ConfirmsForThePerson => NightKind.NeitherGuardNorFeeder,
        Sabotage.BridgesTheGuard or Sabotage.HurriesThePerson => NightKind.Guard,
        _ => (NightKind)(seed % 3),
    };

    private void Disturb()
    {
        Disturbances++;
        switch (_random.Next(7))
        {
            case 0:
                _disk.FailingShare = _random.Next(2) == 0 ? 1 : 0.3;
                _diskIllFor = 4 + _random.Next(60);
                break;
            case 2:
                // Slow from now on, or in order again.
                _rig.Slow.Takes = _random.Next(3) == 0 ? TimeSpan.Zero : TimeSpan.FromSeconds(0.05 + (3 * _random.NextDouble()));
                break;
            case 1:
                // By a person, by the network, by a battery that is flat.
                _clock.Set(TimeSpan.FromHours((_random.NextDouble() * 60) - 24));
                break;
            default:
                _rig.Disturb();
                break;
        }
    }

    private void Publish()
    {
        try
        {
            // The broker of the night answers at once.
            new OutboxDrain(_outbox, new Topics("rig")).PassAsync(_broker, CancellationToken.None).GetAwaiter().GetResult();
        }
        catch (IOException)
        {
            // The broker or the disk is away: what waits goes on waiting.
        }
    }

    private void EndAndStartAgain()
    {
        _rig.End(EndStepsMax);
        if (_disk.IsDead)
        {
            KillAndStartAgain();
            return;
        }

        // Whoever starts it again has made room.
        (_disk.FailingShare, _disk.DiesAfterFlushes, _disk.DiesAfterWrites, _diskIllFor) = (0, null, null, 0);
        Abandon(_archive);
        _archive = new RigArchive(_disk.LivePath, _clock, _log, _disk, packAtBytes: PackAtBytes);
        Join();
        HoldEverything();
    }

    private void KillAndStartAgain()
    {
        // Half of the deaths come at a flush or in a write: in the middle of what is being stored.
        if (!_disk.IsDead && _random.Next(2) == 0 && _disk is { DiesAfterFlushes: null, DiesAfterWrites: null })
        {
            if (_random.Next(3) > 0) _disk.DiesAfterFlushes = _random.Next(12);
            else _disk.DiesAfterWrites = _random.Next(40);
            return;
        }

        if (_disk.IsDead) DeathsInMidStoring++;
        else _disk.Die();
        _rig.Kill();
        RigArchive before = _archive;
        if (_random.Next(2) == 0)
        {
            Kills++;
            Abandon(before);
            _disk.Kill();
        }
        else
        {
            PowerCuts++;
            Abandon(before);
            // Nobody has promised that what was not flushed is there.
            foreach (string run in _samplesKept.Keys.Where(run => !_acknowledged.ContainsKey(run)).ToArray()) _samplesKept.Remove(run);
            SabotageWhatWasFlushed();
            _disk.CutPower();
            // The device hangs on the same mains, or on a battery of its own.
            if (_random.Next(2) == 0) _rig.Restart();
        }

        _diskIllFor = 0;
        for (int i = _sabotage == Sabotage.KeepsTheDeviceAlive ? 2 * StepsDeadMax : _random.Next(StepsDeadMax); i > 0; i--) _rig.Step();
        _archive = new RigArchive(_disk.LivePath, _clock, _log, _disk, packAtBytes: PackAtBytes);
        Join();
        HoldEverything();
    }

    private void SabotageWhatWasFlushed()
    {
        string journal = Path.Combine(_disk.FlushedPath, "journal.jsonl");
        switch (_sabotage)
        {
            case Sabotage.LosesTheJournal:
                File.WriteAllText(journal, "");
                File.Delete(Path.Combine(_disk.FlushedPath, "journal.packed.jsonl"));
                File.Delete(Path.Combine(_disk.FlushedPath, "runs-log.db"));
                break;
            case Sabotage.PoisonsTheJournal:
                File.WriteAllLines(journal, [.. File.ReadAllLines(journal).Prepend("{\"crc32c\":\"00000000\",\"entry\":{}}")]);
                break;
            default:
                break;
        }
    }

    private static void Abandon(RigArchive archive)
    {
        try
        {
            archive.Dispose();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Its disk is gone already.
        }
    }

    /// <summary>As the daemon joins its rooms.</summary>
    private void Join()
    {
        RigArchive archive = _archive;
        _recorder = new PullRecorder(archive, _clock, _log);
        _outbox = new NightOutbox(archive.Outbox, _sabotage == Sabotage.ForgetsMessages);
        if (_sabotage != Sabotage.RecoversNothing) UnfinishedPulls.Store(archive, _recorder, _ => { });

        _rig.Start(new NightServices(
            new NightCaptures(archive.Captures, this),
            new NightRecorder(this),
            Calibrations(archive),
            archive.Diary,
            _log,
            () =>
            {
                if (_sabotage == Sabotage.WritesOnTheControlThread) _disk.Folder(_disk.LivePath);
            }));
    }

    private Func<string, CalibrationRecord?> Calibrations(RigArchive archive) => deviceId =>
    {
        if (_sabotage == Sabotage.PullsWithoutCalibration) return archive.Calibrations.OfDevice(deviceId)[0] with
        { ValidUntil = DateTimeOffset.MaxValue };
        return CalibrationValidity.InForce(archive.Calibrations.OfDevice(deviceId), _clock.GetUtcNow(), new CurrentRig(deviceId),
            archive.Diary.Invalidations(deviceId));
    };

    private static Core.Specimens.Study StudyOfNight() => new()
    {
        Id = StudyId,
        Name = "A night at Kestrel Lane",
        CreatedAt = PulledStudy.Start,
        SettingName = "nozzle temperature",
        SettingUnit = "°C",
        Prints = [Print.Of("A1", new GroupKey("Alder", "fan off", 220))],
        Specimens =
        [
            .. Enumerable.Range(1, SpecimensOfSequence).Select(i => new Specimen
            {
                Id = $"S{i}",
                PrintId = "A1",
                Setting = 220,
                Order = i,
                Section = new SectionMeasurement { WidthsMillimetres = [4.01, 4.02], ThicknessesMillimetres = [4.0] },
            }),
        ],
        Seed = 1,
    };
}
