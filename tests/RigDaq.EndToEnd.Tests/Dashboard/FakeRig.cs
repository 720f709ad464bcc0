using System.Collections.Concurrent;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>
/// A rig that a test drives by hand, for what the page does with what it is told. Its figures are invented. The whole way from
/// bytes is tested elsewhere, on the virtual rig.
/// </summary>
internal sealed class FakeRig : ILiveRig, IAsyncDisposable
{
    private const int Hertz = 500;
    private const int BlockMilliseconds = 40;

    private readonly List<LiveSubscription> _pages = [];
    private readonly CancellationTokenSource _ended = new(); // Without a timer there is nothing to dispose of.
    private readonly Task _samples;
    private readonly Lock _lock = new();
    private RigSnapshot _snapshot;
    private long _number;
    private double? _loadedAt;
    private double _hangingNewtons;

    public FakeRig(bool simulated = true)
    {
        _snapshot = new RigSnapshot
        {
            Link = LinkStage.Up,
            LinkMessage = Sentence.Verbatim("bench rig on /dev/ttyACM0"),
            Device = new RigDevice("00a1b2c3d4e5f607", "bench rig", 3, simulated),
            Hello = new HelloMessage
            {
                Capabilities =
                    Capabilities.Motion | Capabilities.Position | Capabilities.Guard | Capabilities.EmergencyStop | Capabilities.Homing,
                Name = "bench rig",
            },
            Inputs = InputStates.GuardClosed | InputStates.EmergencyStopReleased | InputStates.ConverterAlive,
            Bits = StateBits.Homed,
            SampleRateHertz = Hertz,
            Calibration = new CalibrationRecord
            {
                Id = "c",
                DeviceId = "00a1b2c3d4e5f607",
                AcceptedAt = DateTimeOffset.UnixEpoch,
                ValidUntil = DateTimeOffset.UnixEpoch.AddYears(99),
                Curve = new ForceCurve([0.001]),
                GreatestReferenceNewtons = 490,
            },
            GripSeparationMillimetres = 41.25,
            PositionMillimetres = 1.25,
        };
        _samples = SampleAsync();
    }

    public ConcurrentQueue<string> Calls { get; } = new();

    /// <summary>What the next command answers; null for "done".</summary>
    public CommandResult? Answer { get; set; }

    public RigSnapshot Snapshot => Volatile.Read(ref _snapshot);

    /// <summary>The force begins to rise by 200 N/s.</summary>
    public void Load() => _loadedAt = Seconds;

    /// <summary>Weights hang from the cell.</summary>
    public void Hang(double newtons) => _hangingNewtons = newtons;

    /// <summary>The specimen parts: the force is nothing between two samples.</summary>
    public void Break() => _loadedAt = null;

    public void Set(Func<RigSnapshot, RigSnapshot> change)
    {
        lock (_lock) Volatile.Write(ref _snapshot, change(_snapshot) with { Number = _snapshot.Number + 1 });
    }

    public LiveSubscription SubscribeLive(int blocksMax)
    {
        var page = new LiveSubscription(blocksMax, _ => { });
        lock (_lock) _pages.Add(page);
        return page;
    }

    /// <summary>A stop does not come through.</summary>
    public bool StopFails { get; set; }

    public Task<CommandResult> StopAsync()
    {
        if (StopFails) return Task.FromException<CommandResult>(new InvalidOperationException("It does not come through."));
        Break();
        Set(s => s.Sequence is { } q
            ? s with { Sequence = q with { Stage = SequenceStage.Held, Reason = Sentence.Verbatim("A person stopped it.") } } : s);
        return DoneAsync("stop", "Stopped.", always: true);
    }

    public CommandResult AcknowledgeCautions(string scope)
    {
        Calls.Enqueue("acknowledge " + scope);
        return CommandResult.Ok(Sentence.Verbatim("Acknowledged."));
    }

    public void AcceptHandMotionBeyondCalibration() => Calls.Enqueue("accept beyond");

    public Task<CommandResult> SayEmergencyStopTestedAsync()
        => Task.FromResult(CommandResult.Ok(Sentence.Verbatim("The test of the emergency stop is kept.")));

    public Task<CommandResult> StartSequenceAsync(SequencePlan plan)
    {
        Set(s => s with { Sequence = FakeData.Sequence(plan, SequenceStage.Pulling, done: 4) });
        return DoneAsync($"start {plan.SpecimenIds.Count} beyond={plan.AcceptBeyondCalibration}", "The sequence has begun.");
    }

    public Task<CommandResult> ResumeAsync() => DoneAsync("resume", "It goes on.");

    public Task<CommandResult> SkipAsync() => DoneAsync("skip", "Skipped.");

    public Task<CommandResult> RetryAsync() => DoneAsync("retry", "It is pulled again.");

    public Task<CommandResult> FinishAsync() => DoneAsync("finish", "Finished.");

    public Task<CommandResult> ConfirmPullAsync() => DoneAsync("confirm", "Confirmed.");

    public Task<CommandResult> ConfirmOpenGripAsync() => DoneAsync("grip-open", "Confirmed.");

    public Task<CommandResult> TakeZeroAsync() => DoneAsync("zero", "The zero was taken.");

    public Task<CommandResult> JogAsync(double speedMillimetresPerSecond) =>
        DoneAsync(FormattableString.Invariant($"jog {speedMillimetresPerSecond}"), "");

    /// <summary>Homing does not answer before this completes.</summary>
    public Task HomingHeldUp { get; set; } = Task.CompletedTask;

    public async Task<CommandResult> HomeAsync()
    {
        await HomingHeldUp;
        return await DoneAsync("home", "It looks for home.");
    }

    public Task<CommandResult> MoveToGripSeparationAsync(double millimetres) =>
        DoneAsync(FormattableString.Invariant($"grip {millimetres}"), "It moves.");

    /// <summary>Why no calibration is put in force; null puts it.</summary>
    public string? Refusal { get; set; }

    public Task<CommandResult> SetCalibration(CalibrationRecord? calibration, double? noiseCounts = null)
    {
        if (Refusal is { } why) return Task.FromResult(CommandResult.Refused(Sentence.Verbatim(why)));
        Set(s => s with { Calibration = calibration });
        return DoneAsync("calibration", "In force.");
    }

    public Task<CommandResult> ClearFaultsAsync() => DoneAsync("clear", "Cleared.");

    public async ValueTask DisposeAsync()
    {
        await _ended.CancelAsync();
        await _samples;
    }

    private static double Seconds => Environment.TickCount64 / 1000.0;

    private Task<CommandResult> DoneAsync(string call, string message, bool always = false)
    {
        Calls.Enqueue(call);
        return Task.FromResult(always ? CommandResult.Ok(Sentence.Verbatim(message)) : Answer
            ?? CommandResult.Ok(Sentence.Verbatim(message)));
    }

    private async Task SampleAsync()
    {
        var random = new Random(7);
        using var timer = new PeriodicTimer(TimeSpan.FromMilliseconds(BlockMilliseconds));
        long sample = 0;
        try
        {
            while (await timer.WaitForNextTickAsync(_ended.Token))
            {
                int count = Hertz * BlockMilliseconds / 1000;
                double force = _loadedAt is { } at ? (Seconds - at) * 200 : _hangingNewtons, rise = _loadedAt is null ? 0 : 200.0 / Hertz;
                double[] newtons =
                    [.. Enumerable.Range(0, count)
                    .Select(i => Math.Max(0, force - ((count - i) * rise)) + ((random.NextDouble() - 0.5) * 0.8))];
                RawSample[] raw =
                    [.. Enumerable.Range(0, count)
                    .Select(i => new RawSample(sample + i, (sample + i) * 1_000_000 / Hertz, (int)(newtons[i] * 1000), 500))];
                sample += count;
                var block = new LiveBlock
                {
                    Number = _number++,
                    ArrivedAt = DateTimeOffset.UnixEpoch,
                    Samples = raw,
                    Newtons = newtons,
                    BootNumber = 9,
                    PositionMillimetres = [.. raw.Select(_ => 1.25)],
                };
                lock (_lock) foreach (LiveSubscription page in _pages) page.Offer(block);
                Set(s => s with { ForceNewtons = newtons.Average(), Counts = newtons.Average() * 1000 });
            }
        }
        catch (OperationCanceledException)
        {
            // The test is over.
        }
    }
}
