using Microsoft.Extensions.Logging;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Recording;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Messages;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Night;

/// <summary>
/// A night by a seed, on one virtual clock: a virtual device on a cable that fails, the real session, control loop and
/// sequencer, the real recorder, the real archive on a disk that is
/// full, failing at any flush or torn, the real outbox before a broker that fails, a wall clock that is set to and fro, a
/// person who does what is asked and
/// sometimes what is not; and a process that is killed, cut off or ended at any step, also in the middle of storing, and
/// started again.
/// </summary>
internal sealed class SimulatedNight : IDisposable
{
    private const int SpecimensOfSequence = 3;
    private const int EndStepsMax = 400;
    private const int DrainsMax = 100;
    private const string StudyId = "s";

    // About one thing that goes wrong in so many steps of 25 ms.
    private const int StepsADisturbance = 45;
    private const int StepsAKill = 160;
    private const int StepsDeadMax = 30;
    private static readonly string DeviceId = WorkshopCalibration.DeviceId.ToUpperInvariant();

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
        _calibratedUntil = seed % 4 == 3 || sabotage == Sabotage.PullsWithoutCalibration ? PulledStudy.Start.AddSeconds(6) : PulledStudy.Start.AddYears(1);
        _rig = new NightRig(KindOf(seed, sabotage), seed, _clock, sabotage) { StudyId = StudyId, IsCalibrated = () => _clock.GetUtcNow() < _calibratedUntil };
        _archive = new RigArchive(_disk.LivePath, _clock, _log, _disk);
        _archive.Save(WorkshopCalibration.Make(PulledStudy.Start.AddDays(-3)) with { DeviceId = DeviceId, ValidUntil = _calibratedUntil });
        _archive.Save(StudyOfNight(), "made");
        Join();
    }

    public int Kills { get; private set; }

    public int PowerCuts { get; private set; }

    public int DeathsInMidStoring { get; private set; }

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
        (_disk.FailingShare, _disk.DiesAfterFlushes) = (0, null);
        EndAndStartAgain();
        for (int pass = 0; _archive.Count > 0 && pass < DrainsMax; pass++) Publish();
        Hold(_archive.Count == 0, "messages wait though a broker takes all of them");
        IReadOnlyList<Run> stored = _archive.OfStudy(StudyId);
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
        switch (_random.Next(6))
        {
            case 0:
                _disk.FailingShare = _random.Next(2) == 0 ? 1 : 0.3;
                _diskIllFor = 4 + _random.Next(60);
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

    private void HoldAfterStep()
    {
        if (_diskIllFor > 0 && --_diskIllFor == 0) _disk.FailingShare = 0;
        Hold(_log.Fault is null, $"the control loop failed at a step: {_log.Fault}");
        Hold(!_disk.WasWrittenOnTheControlThread, "the control thread wrote to the disk");
        // An ill disk may refuse to be read, too; what it holds is looked at when it is well again.
        if (_acknowledged.Count == 0 || _disk.IsDead || _disk.FailingShare > 0 || _random.Next(3) > 0) return;
        try
        {
            HoldRun(_acknowledged.Values.ElementAt(_random.Next(_acknowledged.Count)));
        }
        catch (ArchiveException) when (_disk.IsDead)
        {
            // It died while its database was opened again to be read.
        }
    }

    private void HoldRun(Run told)
    {
        Run? kept = _archive.Runs.Find(told.Head.RunId);
        Hold(kept is not null, $"run {told.Head.RunId} was acknowledged and is gone");
        Hold((told.Ending, told.EndedAt, told.Reading?.PeakForceNewtons) == (kept!.Ending, kept.EndedAt, kept.Reading?.PeakForceNewtons), $"run {told.Head.RunId} is another than was acknowledged");
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
        (_disk.FailingShare, _disk.DiesAfterFlushes, _diskIllFor) = (0, null, 0);
        Abandon(_archive);
        _archive = new RigArchive(_disk.LivePath, _clock, _log, _disk);
        Join();
        HoldEverything();
    }

    private void KillAndStartAgain()
    {
        // Half of the deaths come at a flush: in the middle of what is being stored.
        if (!_disk.IsDead && _random.Next(2) == 0 && _disk.DiesAfterFlushes is null)
        {
            _disk.DiesAfterFlushes = _random.Next(12);
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
        _archive = new RigArchive(_disk.LivePath, _clock, _log, _disk);
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
        _recorder = new PullRecorder(archive, archive, archive, archive, _clock, _log);
        _outbox = new NightOutbox(archive, _sabotage == Sabotage.ForgetsMessages);
        if (_sabotage != Sabotage.RecoversNothing) UnfinishedPulls.Store(archive, _recorder, _ => { });

        _rig.Start(new NightServices(
            new NightCaptures(archive.Captures, this),
            new NightRecorder(this),
            Calibrations(archive),
            archive,
            _log,
            () =>
            {
                if (_sabotage == Sabotage.WritesOnTheControlThread) _disk.Folder(_disk.LivePath);
            }));
    }

    private Func<string, CalibrationRecord?> Calibrations(RigArchive archive) => deviceId =>
    {
        if (_sabotage == Sabotage.PullsWithoutCalibration) return archive.OfDevice(deviceId)[0] with { ValidUntil = DateTimeOffset.MaxValue };
        return CalibrationValidity.InForce(archive.OfDevice(deviceId), _clock.GetUtcNow(), new RigAsItIs(deviceId), archive.Invalidations(deviceId));
    };

    /// <summary>
    /// After a start: each pull that began has one run, each acknowledged one is what it was, nothing is damaged, and every
    /// run's message waits or was heard.
    /// </summary>
    private void HoldEverything()
    {
        // A torn line is told, and spoils only itself; nothing else may be amiss.
        IReadOnlyList<string> findings = _archive.Verify();
        foreach (string finding in findings) Hold(finding.Contains("journal", StringComparison.Ordinal), finding);
        Hold(findings.Count <= _disk.TornMax, $"{findings.Count} findings, {_disk.TornMax} torn lines: {string.Join(" ", findings)}");
        IReadOnlyList<Run> runs = _archive.OfStudy(StudyId);
        var kept = runs.Select(run => run.Head.RunId).ToHashSet();
        Hold(kept.Count == runs.Count, "a run is there twice");
        Hold(runs.Select(run => (run.Head.SequenceId, run.Head.SpecimenId, run.Head.StartedAt)).Distinct().Count() == runs.Count, "a pull is there as two runs");
        foreach (PullHead begun in _begun) Hold(kept.Contains(begun.RunId), $"pull {begun.RunId} began and has no run");
        foreach (Run told in _acknowledged.Values) HoldRun(told);
        foreach ((string run, int samples) in _samplesKept)
        {
            int now = _archive.FindPull(run)?.Trace.Samples.Count ?? 0;
            Hold(now >= samples, $"{samples} samples of run {run} were handed over, its trace holds {now}");
        }

        var waiting = new HashSet<string>(_archive.Pending(int.MaxValue).Select(pending => pending.Message.Topic.Split('/')[^1]));
        foreach (string run in kept) Hold(waiting.Contains(run) || _broker.HasHeard(run), $"the message of run {run} neither waits nor was heard");
    }

    private static void Hold(bool holds, string words)
    {
        if (!holds) throw new InvariantBrokenException(words);
    }

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

    /// <summary>Begins captures as the archive does, and keeps in mind which.</summary>
    private sealed class NightCaptures(ICaptureJournal inner, SimulatedNight night) : ICaptureJournal
    {
        public ICaptureWriter Begin(PullHead head)
        {
            ICaptureWriter writer = inner.Begin(head);
            if (night._disk.IsDead) return writer;
            night._begun.Add(head);
            return new CountingWriter(writer, night, head.RunId);
        }

        public IReadOnlyList<PullRecord> FindUnfinished() => inner.FindUnfinished();
    }

    private sealed class NightRecorder(SimulatedNight night) : IPullRecorder
    {
        private readonly PullRecorder _inner = night._recorder;

        public Task<Run> RecordAsync(PullRecord pull, CancellationToken cancellation) => Task.Run(() => Record(pull), cancellation);

        private Run Record(PullRecord pull)
        {
            if (night._disk.IsDead) throw new IOException("The process is dead.");
            try
            {
                Run run = night._sabotage == Sabotage.AcknowledgesWithoutStoring && night._random.Next(4) == 0
                    ? RunCalculation.Calculate(pull, null, null, pull.EndedAt)
                    : _inner.Record(pull);
                if (night._sabotage == Sabotage.StoresTwice && night._random.Next(3) == 0)
                    _inner.Record(pull with { Head = pull.Head with { RunId = Guid.CreateVersion7(night._clock.GetUtcNow()).ToString() } });
                night._acknowledged[pull.Head.RunId] = run;
                night._samplesKept[pull.Head.RunId] = pull.Trace.Samples.Count;
                return run;
            }
            catch (IOException)
            {
                night.NotStoredAtFirst++;
                throw;
            }
        }
    }

    /// <summary>Counts what the system has taken: a kill must not cost a sample of it.</summary>
    private sealed class CountingWriter(ICaptureWriter inner, SimulatedNight night, string runId) : ICaptureWriter
    {
        private bool _odd;

        public void Append(ReadOnlySpan<RawSample> samples)
        {
            _odd = !_odd;
            if (night._sabotage != Sabotage.RecoversLess || _odd) inner.Append(samples);
            if (!night._disk.IsDead) night._samplesKept[runId] = night._samplesKept.GetValueOrDefault(runId) + samples.Length;
        }

        public void AppendChannel(int channel, ReadOnlySpan<ChannelSample> samples) => inner.AppendChannel(channel, samples);

        public void Complete(PullRecord pull) => inner.Complete(pull);

        public void Dispose() => inner.Dispose();
    }

    private sealed class NightOutbox(IOutbox outbox, bool forgets) : IOutbox
    {
        public int Count => outbox.Count;

        public IReadOnlyList<(long Number, OutboxMessage Message)> Pending(int count)
        {
            var pending = outbox.Pending(count);
            if (forgets && pending.Count > 0) outbox.Complete(pending[0].Number);
            return pending;
        }

        public void Complete(long number) => outbox.Complete(number);

        public void Reach(long number, IReadOnlyCollection<string> addressees) => outbox.Reach(number, addressees);

        public IReadOnlyDictionary<long, IReadOnlyList<string>> Reached() => outbox.Reached();
    }

    /// <summary>Hears when a step of the control loop failed: that is survived, and never meant.</summary>
    private sealed class NightLog : ILogger
    {
        public string? Fault { get; private set; }

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => logLevel >= LogLevel.Error;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter)
        {
            if (logLevel >= LogLevel.Error && exception is not (null or IOException)) Fault ??= $"{formatter(state, exception)} {exception}";
        }
    }
}
