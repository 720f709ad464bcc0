using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Archive;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Recording;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Messages;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Sequencing;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Night;

/// <summary>What is broken on purpose, to show that the night would notice.</summary>
internal enum Sabotage
{
    Nothing,

    /// <summary>A run is acknowledged and not stored.</summary>
    AcknowledgesWithoutStoring,

    /// <summary>What a crash left without a run gets none.</summary>
    RecoversNothing,

    /// <summary>A message leaves the outbox before a broker has it.</summary>
    ForgetsMessages,

    /// <summary>A power cut takes what the journal had flushed.</summary>
    LosesTheJournal,
}

/// <summary>
/// A night by a seed: the real sequencer in its world of faults of link, device and person, with the real recorder, the real archive on a disk that is
/// full, slow, failing at any flush or torn, the real outbox before a broker that fails, one clock that is set to and fro, and a process that is
/// killed at any step and started again.
/// </summary>
internal sealed class SimulatedNight : IWorldStore, IDisposable
{
    private const int SpecimensOfSequence = 3;
    private const string StudyId = "s";
    private const int IntervalMicroseconds = 12_500;

    private readonly int _seed;
    private readonly Sabotage _sabotage;
    private readonly Random _random;
    private readonly NightDisk _disk;
    private readonly NightBroker _broker;
    private readonly FakeTimeProvider _time = new(PulledStudy.Start);
    private readonly List<string> _begun = [];
    private readonly Dictionary<string, Run> _acknowledged = [];
    private readonly Dictionary<string, PullRecord> _notStored = [];
    private RigArchive _archive = null!;
    private PullRecorder _recorder = null!;
    private SequenceWorld _world = null!;
    private (PullHead Head, ICaptureWriter Writer, List<RawSample> Samples)? _pull;
    private int _diskIllFor;
    private long _number;

    public SimulatedNight(int seed, Sabotage sabotage = Sabotage.Nothing)
    {
        (_seed, _sabotage) = (seed, sabotage);
        _random = new Random(seed);
        _disk = new NightDisk(new Random(seed + 1));
        _broker = new NightBroker(new Random(seed + 2));
        Start();
        _archive.Save(WorkshopCalibration.Make(PulledStudy.Start.AddDays(-3)));
        _archive.Save(StudyOfNight(), "made");
    }

    public int Kills { get; private set; }

    public int PowerCuts { get; private set; }

    public int Begun => _begun.Count;

    public int Acknowledged => _acknowledged.Count;

    public int NotStoredAtFirst { get; private set; }

    /// <summary>Runs the night and holds it to what must always hold, after every step.</summary>
    public void Run(int steps)
    {
        for (int step = 0; step < steps; step++)
        {
            if (!_world.Step()) NewSequence();
            _time.Advance(TimeSpan.FromMilliseconds(500));
            Disturb();
            WriteSamples();
            Publish();
            HoldWhatIsAcknowledged();
            if (_random.Next(60) == 0) KillAndStartAgain();
        }

        // Morning: nothing fails any more, the program is ended and started once more, and a listener hears what waited.
        _world.MayInject = _broker.MayFail = false;
        _disk.FailingShare = 0;
        _world.EndTheProgram();
        KillAndStartAgain();
        for (int pass = 0; _archive.Count > 0 && pass < 100; pass++) Publish();
        Assert.Equal(0, _archive.Count);
        foreach (string run in _begun) Assert.Contains(_broker.Heard, topic => topic.EndsWith(run, StringComparison.Ordinal));
    }

    string? IWorldStore.Open(string specimenId)
    {
        DateTimeOffset now = _time.GetUtcNow();
        var head = new PullHead
        {
            // Ids that sort by time, from the seed: a night is the same whenever it is run.
            RunId = $"0193a3a0-{_begun.Count:x4}-7000-8000-{_random.NextInt64(1L << 48):x12}",
            StudyId = StudyId,
            SpecimenId = specimenId,
            SequenceId = $"night {_seed}",
            CalibrationId = WorkshopCalibration.Id,
            StartedAt = now,
            Settings = new PullSettings(),
            Device = new RigDevice(WorkshopCalibration.DeviceId, "virtual rig", 1, true),
            ZeroCounts = WorkshopCalibration.ZeroCounts,
            NoiseCounts = 30,
            IntervalSeconds = IntervalMicroseconds / 1e6,
        };
        try
        {
            _pull = (head, _archive.Captures.Begin(head), []);
            _begun.Add(head.RunId);
            return head.RunId;
        }
        catch (IOException)
        {
            // A head that was written may be found at the next start although its flush failed: then it is a pull that was cut short at once.
            return null;
        }
    }

    SequenceEvent IWorldStore.End(EndPull ended)
    {
        (PullHead head, ICaptureWriter writer, List<RawSample> samples) = _pull ?? throw new InvalidOperationException("No pull is open.");
        _pull = null;
        var pull = new PullRecord
        {
            Head = head,
            Ending = ended.Ending,
            Reason = ended.Reason,
            EndedAt = _time.GetUtcNow(),
            Trace = new RawTrace { Samples = [.. samples], IntervalSeconds = head.IntervalSeconds },
        };
        try
        {
            using (writer) writer.Complete(pull);
        }
        catch (IOException)
        {
            // As the rig does: a disk that fails here is no reason not to record.
        }

        return Record(pull);
    }

    SequenceEvent IWorldStore.Again(string runId) => Record(_notStored[runId]);

    public void Dispose()
    {
        _archive.Dispose();
        _disk.Dispose();
    }

    private SequenceEvent Record(PullRecord pull)
    {
        string id = pull.Head.RunId;
        try
        {
            if (_sabotage == Sabotage.AcknowledgesWithoutStoring && _random.Next(4) == 0) return Kept(RunCalculation.Calculate(pull, null, null, pull.EndedAt));
            return Kept(_recorder.Record(pull));
        }
        catch (IOException e)
        {
            NotStoredAtFirst++;
            _notStored[id] = pull;
            return new RecordingFailed(id, e.Message);
        }

        PullRecorded Kept(Run run)
        {
            _acknowledged[id] = run;
            _notStored.Remove(id);
            return new PullRecorded(id);
        }
    }

    private void Disturb()
    {
        if (_diskIllFor > 0 && --_diskIllFor == 0) _disk.FailingShare = 0;
        switch (_random.Next(80))
        {
            case 0:
                _disk.FailingShare = _random.Next(2) == 0 ? 1 : 0.3;
                _diskIllFor = 1 + _random.Next(40);
                break;
            case 1:
                // Set by a person, by the network, by a battery that is flat. Forward only as this clock goes; backwards by starting from an earlier day.
                _time.Advance(TimeSpan.FromHours(1 + _random.Next(48)));
                break;
            case 2 when _pull is { } pull:
                _world.LoseCapture(pull.Head.RunId, "the disk is slow");
                break;
            default:
                break;
        }
    }

    private void WriteSamples()
    {
        if (_pull is not { } pull) return;
        var block = new RawSample[8];
        for (int i = 0; i < block.Length; i++)
        {
            double counts = WorkshopCalibration.ZeroCounts + (pull.Samples.Count * 4_000) + (WorkshopCalibration.Normal(_random) * 30);
            block[i] = new RawSample(_number, _number * IntervalMicroseconds, (int)counts, (int)_number);
            _number++;
        }

        pull.Writer.Append(block);
        pull.Samples.AddRange(block);
    }

    private void Publish()
    {
        var outbox = new NightOutbox(_archive, _sabotage == Sabotage.ForgetsMessages);
        try
        {
            // The broker of the night answers at once.
            new OutboxDrain(outbox, new Topics("rig")).PassAsync(_broker, CancellationToken.None).GetAwaiter().GetResult();
        }
        catch (IOException)
        {
            // The broker or the disk is away: what waits goes on waiting.
        }
    }

    private void HoldWhatIsAcknowledged()
    {
        if (_acknowledged.Count == 0 || _disk.FailingShare > 0) return;
        Run told = _acknowledged.Values.ElementAt(_random.Next(_acknowledged.Count));
        HoldRun(told);
    }

    private void HoldRun(Run told)
    {
        Run kept = _archive.Runs.Find(told.Head.RunId) ?? throw new InvalidOperationException($"Run {told.Head.RunId} was acknowledged and is gone.");
        Assert.Equal((told.Ending, told.EndedAt, told.Reading?.PeakForceNewtons), (kept.Ending, kept.EndedAt, kept.Reading?.PeakForceNewtons));
    }

    private void KillAndStartAgain()
    {
        RigArchive before = _archive;
        if (_random.Next(2) == 0)
        {
            Kills++;
            _disk.Kill();
        }
        else
        {
            PowerCuts++;
            if (_sabotage == Sabotage.LosesTheJournal) File.WriteAllText(Path.Combine(_disk.FlushedPath, "journal.jsonl"), "");
            if (_sabotage == Sabotage.LosesTheJournal) File.Delete(Path.Combine(_disk.FlushedPath, "runs-log.db"));
            _disk.CutPower();
        }

        // Its files are copied; what it still does touches nothing.
        Abandon(before);
        _pull = null;
        Start();
        HoldEverything();
    }

    private static void Abandon(RigArchive archive)
    {
        try
        {
            archive.Dispose();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Its folder is gone already.
        }
    }

    private void Start()
    {
        _archive = new RigArchive(_disk.LivePath, _time, NullLogger.Instance, _disk);
        _recorder = new PullRecorder(_archive, _archive, _archive, _archive, _time, NullLogger.Instance);
        if (_sabotage != Sabotage.RecoversNothing) UnfinishedPulls.Store(_archive, _recorder, _ => { });
        _diskIllFor = 0;
        NewSequence();
    }

    private void NewSequence()
    {
        var kinds = Enum.GetValues<WorldKind>();
        _world = new SequenceWorld(kinds[_random.Next(kinds.Length)], _random.Next(), SpecimensOfSequence, faultShare: 0.05, this);
    }

    /// <summary>After a start: each pull that began has one run, each acknowledged one is what it was, nothing is damaged, and every run's message waits or was heard.</summary>
    private void HoldEverything()
    {
        // A torn line is told, and spoils only itself; nothing else may be amiss.
        IReadOnlyList<string> findings = _archive.Verify();
        Assert.All(findings, finding => Assert.Contains("journal", finding, StringComparison.Ordinal));
        Assert.InRange(findings.Count, 0, _disk.TornMax);
        string[] kept = [.. _archive.OfStudy(StudyId).Select(run => run.Head.RunId)];
        Assert.Equal(kept.Length, kept.Distinct().Count());
        foreach (string begun in _begun) Assert.True(kept.Contains(begun), $"Pull {begun} began and has no run.");
        foreach (Run told in _acknowledged.Values) HoldRun(told);
        var waiting = new HashSet<string>(_archive.Pending(int.MaxValue).Select(pending => pending.Message.Topic.Split('/')[^1]));
        foreach (string run in kept)
            Assert.True(waiting.Contains(run) || _broker.Heard.Exists(topic => topic.EndsWith(run, StringComparison.Ordinal)), $"The message of run {run} neither waits nor was heard.");
        _notStored.Clear();
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
}
