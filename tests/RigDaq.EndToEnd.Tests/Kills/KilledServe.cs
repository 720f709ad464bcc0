using System.Collections.Concurrent;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.EndToEnd.Tests.Devices;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Protocol.Messages;
using RigDaq.Publishing.Tests.Support;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.EndToEnd.Tests.Kills;

/// <summary>
/// A virtual rig on a pseudo-terminal, Debian's broker, a subscriber whose session stays, and <c>serve</c> between them that is
/// killed. After each kill a
/// person's hands take the piece out with the guard open, as they must.
/// </summary>
internal sealed partial class KilledServe : IAsyncDisposable
{
    private const string StudyId = "kills";
    private const string RigName = "kills";
    private const int Queued = 12;
    private const int StartTriesMax = 50;
    private const double AliveSecondsMax = 4;
    private const double StartingSecondsMax = 2;
    private static readonly TimeSpan EndMax = TimeSpan.FromSeconds(60);
    private static readonly TimeSpan StandMax = TimeSpan.FromSeconds(10);

    private readonly TemporaryFolder _folder = new();
    private readonly Random _random;
    private readonly MosquittoBroker _broker;
    private readonly VirtualRig _rig;
    private readonly ConcurrentQueue<HeardMessage> _heard = new();
    private readonly ConcurrentDictionary<string, byte> _begun = new();
    private readonly CancellationTokenSource _ending = new();
    private Listener? _listener;
    private Task _hearing = Task.CompletedTask;
    private int _queued;

    private KilledServe(int seed, MosquittoBroker broker, double timeScale)
    {
        _random = new Random(seed);
        _broker = broker;
        _rig = new VirtualRig(new VirtualRigOptions { Seed = (ulong)seed, TimeScale = timeScale, StartMillimetres = 3 },
            TimeProvider.System);
    }

    /// <summary>The folder that everything is in.</summary>
    public string Folder => _folder.Path;

    /// <summary>The pseudo-terminal's own path.</summary>
    public string? Terminal => _rig.PtyPath;

    /// <summary>The messages of runs that the subscriber has got.</summary>
    public IReadOnlyCollection<HeardMessage> Heard => _heard;

    /// <summary>Runs that the state named while they were pulled.</summary>
    public IEnumerable<string> Begun => _begun.Keys;

    /// <summary>How many specimens truly parted.</summary>
    public int Breaks => _rig.PullsMade;

    /// <summary>How many kills met it before it was up.</summary>
    public int KillsBeforeUp { get; private set; }

    /// <summary>Why a sequence was held before the kill came.</summary>
    public ConcurrentBag<string> Holds { get; } = [];

    private string Configuration => _folder["rig.json"];

    /// <param name="seed">Of the moments and of the rig.</param>
    /// <param name="timeScale">20: so fast that a pull takes a second.</param>
    /// <param name="specimens">Of the study.</param>
    public static async Task<KilledServe> PrepareAsync(int seed, double timeScale = 20, int specimens = 2_000)
    {
        var serve =
            new KilledServe(seed,
            await MosquittoBroker.StartAsync(_ => "allow_anonymous true\nmax_queued_messages 0\nmax_queued_bytes 0\nlog_dest none\n"),
            timeScale);
        serve.Prepare(specimens);
        return serve;
    }

    /// <summary>Starts it, lets it pull, kills it at a moment that the seed picks, and takes out what is in the grips.</summary>
    public async Task KillOnceAsync()
    {
        // Now and then nobody listens for a while, and the broker keeps what comes.
        if (_random.Next(8) == 0) await StopListeningAsync();
        else if (_listener is null) Listen();
        _queued += Feed();
        if (_random.Next(5) == 0)
        {
            KillsBeforeUp++;
            await using RigdaqProcess process = RigdaqProcess.Start("serve", "--config", Configuration);
            // Wall time on purpose, here and below: another process is killed in it.
            await Task.Delay(TimeSpan.FromSeconds(StartingSecondsMax * _random.NextDouble()));
            process.KillAtOnce();
        }
        else
        {
            TimeSpan alive = TimeSpan.FromSeconds(AliveSecondsMax * _random.NextDouble());
            await using RunningServe serve = await RunningServe.StartAsync(Configuration);
            await BeginAsync(serve);
            Task watching = WatchAsync(serve);
            await Task.Delay(alive); // For so long the process may work before it is killed.
            await serve.DisposeAsync();
            await watching;
        }

        await TakeOutAsync();
    }

    /// <summary>Starts it to stay.</summary>
    public async Task<RunningServe> StartAsync(params string[] starter)
    {
        _queued += Feed();
        return await RunningServe.StartAsync(Configuration, starter);
    }

    /// <summary>
    /// What a person does after a hold, and at the beginning: takes out what is in the grips, clears, homes, and has the rest
    /// pulled.
    /// </summary>
    public async Task BeginAgainAsync(RunningServe serve)
    {
        await TakeOutAsync();
        await serve.TryAsync("finish");
        await BeginAsync(serve);
    }

    /// <summary>Fills the feeder.</summary>
    public void FillUp() => _queued += Feed();

    /// <summary>Starts it a last time, waits until all that waited was heard, ends it in order, and opens what it left.</summary>
    public async Task<(IReadOnlyList<Run> Stored, IReadOnlyList<string> Findings)> EndAsync()
    {
        if (_listener is null) Listen();
        await using (RigdaqProcess process = RigdaqProcess.Start("serve", "--config", Configuration))
        {
            await process.SaysAsync(Up(), EndMax);
            long quietSince = Environment.TickCount64, end = quietSince + (long)EndMax.TotalMilliseconds;
            // Wall time: another process may publish for as long as it likes, so quiet is a stretch without a message.
            for (int heard = -1; Environment.TickCount64 < end && Environment.TickCount64 - quietSince < 5_000; await Task.Delay(100))
            {
                if (_heard.Count == heard) continue;
                (heard, quietSince) = (_heard.Count, Environment.TickCount64);
            }

            await process.SignalAsync("-TERM");
            int status = await process.ExitAsync(EndMax);
            Assert.True(status == 0, $"ended with {status}: {process.Errors}");
        }

        await StopListeningAsync();
        using var archive = new RigArchive(_folder["data"], TimeProvider.System, NullLogger.Instance);
        // The line that a kill tore off was mended and said at the start that followed.
        return (archive.Runs.OfStudy(StudyId),
            [.. archive.Verify().Where(finding => !finding.Contains("journal", StringComparison.Ordinal))]);
    }

    public async ValueTask DisposeAsync()
    {
        await StopListeningAsync();
        await _rig.DisposeAsync();
        await _broker.DisposeAsync();
        _ending.Dispose();
        _folder.Dispose();
    }

    private void Prepare(int specimens)
    {
        string port = _rig.OpenPty(_folder["port"]);
        File.WriteAllText(Configuration, JsonSerializer.Serialize(new
        {
            name = RigName,
            data = _folder["data"],
            http = new { port = 0 },
            mqtt = new { broker = "external", host = "127.0.0.1", port = _broker.Port },
            serial = new { path = port },
            pull = new { zeroSeconds = 0.3, returnSpeedMillimetresPerSecond = 10.0 },
            sequence = new { announcedDelaySeconds = 2.0 },
        }));
        using var archive = new RigArchive(_folder["data"], TimeProvider.System, NullLogger.Instance);
        archive.Calibrations.Save(new CalibrationRecord
        {
            Id = Guid.CreateVersion7().ToString(),
            DeviceId = _rig.Options.DeviceId.ToString("X16", CultureInfo.InvariantCulture),
            AcceptedAt = DateTimeOffset.UnixEpoch,
            ValidUntil = DateTimeOffset.MaxValue,
            Curve = new ForceCurve([_rig.Options.NewtonsPerCount]),
            GreatestReferenceNewtons = 1000,
            NoiseCounts = _rig.Options.NoiseCounts,
        });
        archive.Studies.Save(Study(specimens), "made");
        Listen();
    }

    private void Listen()
    {
        _listener = Listener.Start(_broker.Port, ["-c", "-i", "keeps-everything"], $"rigdaq/{RigName}/runs/#", $"rigdaq/{RigName}/state");
        _hearing = HearAsync(_listener);
    }

    private async Task HearAsync(Listener listener)
    {
        await foreach (HeardMessage message in listener.AllAsync())
        {
            if (message.Topic.Contains("/runs/", StringComparison.Ordinal)) _heard.Enqueue(message);
            else if (message.Payload.TryGetProperty("runId", out JsonElement run) && run.GetString() is { } id) _begun.TryAdd(id, 0);
        }
    }

    private async Task StopListeningAsync()
    {
        if (_listener is not { } listener) return;
        _listener = null;
        // In order: what it has taken from the broker it has also handed on.
        await listener.EndInOrderAsync();
        await _hearing;
        await listener.DisposeAsync();
    }

    private static async Task BeginAsync(RunningServe serve)
    {
        JsonElement up = await serve.WhenAsync(s => s.GetProperty("link").GetString() == "up"
            && s.GetProperty("calibration").ValueKind == JsonValueKind.Object, "the device");
        if (up.GetProperty("faults").GetArrayLength() > 0)
        {
            await serve.DoAsync("clear-faults");
            up = await serve.WhenAsync(s => s.GetProperty("faults").GetArrayLength() == 0, "no fault");
        }

        await serve.DoAsync("hand-motion", new { cautionsRead = true });
        if (!up.GetProperty("homed").GetBoolean()) await serve.DoAsync("home");
        // Until it is home; the state that comes first may be of before.
        string answer = "";
        for (int tries = 0; tries < StartTriesMax; tries++)
        {
            await serve.WhenAsync(s => s.GetProperty("homed").GetBoolean() && s.GetProperty("motion").GetString() == "still", "home");
            (bool done, answer) = await serve.TryAsync("start", new { cautionsRead = true });
            if (done) return;
        }

        Assert.Fail($"start: {answer}");
    }

    private async Task WatchAsync(RunningServe serve)
    {
        try
        {
            JsonElement held = await serve.WhenAsync(
                s => s.GetProperty("sequence") is { ValueKind: JsonValueKind.Object } sequence
                    && sequence.GetProperty("stage").GetString() == "held", "a hold");
            Holds.Add(held.GetProperty("sequence").GetProperty("reason").GetString()!);
        }
        catch (Exception)
        {
            // It was killed before anything held it, which is how it should be.
        }
    }

    private int Feed()
    {
        int missing = Queued - _rig.SpecimensWaiting;
        _rig.QueueSpecimens(Enumerable.Range(_queued, missing)
            .Select(i => new VirtualSpecimen { Label = $"F{i}", StrengthNewtons = 250 + (i % 200) }));
        return missing;
    }

    private async Task TakeOutAsync()
    {
        long end = Environment.TickCount64 + (long)StandMax.TotalMilliseconds;
        while (_rig.Motion != MotionState.Still)
        {
            Assert.True(Environment.TickCount64 < end, "The device went on without keep-alives.");
            await Task.Delay(10); // The rig stops in wall time, when it misses its keep-alives.
        }

        _rig.OpenGuard();
        _rig.RemoveSpecimen();
        _rig.CloseGuard();
    }

    private static Study Study(int specimens) => new()
    {
        Id = StudyId,
        Name = "Killed and started again",
        CreatedAt = DateTimeOffset.UnixEpoch,
        Prints = [Print.Of("A1", new GroupKey("Alder", "fan off", null))],
        Specimens =
        [
            .. Enumerable.Range(1, specimens).Select(i => new Specimen
            {
                Id = $"S{i}",
                PrintId = "A1",
                Order = i,
                Section = new SectionMeasurement { WidthsMillimetres = [4.0, 4.01], ThicknessesMillimetres = [4.0] },
            }),
        ],
        Seed = 1,
    };

    [GeneratedRegex("Data: ")]
    private static partial Regex Up();
}
