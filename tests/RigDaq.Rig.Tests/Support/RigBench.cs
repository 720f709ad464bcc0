using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Rig.Tests.Support;

/// <summary>A virtual rig with a controller in front of it. It runs in wall time: the wire's safety timers do too.</summary>
internal sealed class RigBench : IAsyncDisposable
{
    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(15);

    public RigBench(VirtualRigOptions? options = null, IRigLinkOpener? opener = null, RigControllerOptions? controller = null,
        ForceCurve? curve = null)
    {
        Rig = new VirtualRig(options ?? Near, TimeProvider.System);
        Line = new SniffedLine(new PipeRigLinkOpener("virtual rig", Rig.ConnectInProcess));
        Controller = new RigController(
            new RigServices
            {
                Link = opener ?? Line,
                CreateDetector = (settings, noise) => new BreakDetector(settings, noise),
                Captures = Journal,
                Recorder = Recorder,
                CheckWeightOutside = (_, _) => CheckWeight(),
                FindCalibration = id => CalibrationOf(Rig.Options, id) is var made && curve is null ? made : made with { Curve = curve },
            },
            controller ?? new RigControllerOptions());
    }

    /// <summary>Twenty times as fast, with the crosshead near home, so that homing takes no time to speak of.</summary>
    public static VirtualRigOptions Near => new() { TimeScale = 20, StartMillimetres = 3 };

    /// <summary>Slow enough in wall time for a test to step in.</summary>
    public static VirtualRigOptions Slow => Near with { TimeScale = 4 };

    public static PullSettings Quick => new() { ZeroSeconds = 0.5, ReturnSpeedMillimetresPerSecond = 10 };

    public VirtualRig Rig { get; }

    public RigController Controller { get; }

    /// <summary>Whether the check weight's chart asks for a new calibration; may throw.</summary>
    public Func<bool> CheckWeight { get; set; } = () => false;

    /// <summary>What goes over the line.</summary>
    public SniffedLine Line { get; }

    public MemoryJournal Journal { get; } = new();

    public MemoryRecorder Recorder { get; } = new();

    public static CalibrationRecord CalibrationOf(VirtualRigOptions options, string deviceId) => new()
    {
        Id = "0190a0a0-0000-7000-8000-000000000001",
        DeviceId = deviceId,
        AcceptedAt = DateTimeOffset.UnixEpoch,
        ValidUntil = DateTimeOffset.MaxValue,
        Curve = new ForceCurve([options.NewtonsPerCount]),
        GreatestReferenceNewtons = 1000,
    };

    public static SequencePlan PlanFor(int specimens, PullSettings? settings = null) => new()
    {
        SequenceId = "0190a0a0-0000-7000-8000-000000000002",
        StudyId = "bench",
        SpecimenIds = [.. Enumerable.Range(1, specimens).Select(i => $"S{i}")],
        AnnouncedDelay = SequencePlan.AnnouncedDelayMin,
        Settings = settings ?? Quick,
    };

    public void Queue(int specimens) => Rig.QueueSpecimens(Enumerable.Range(1, specimens).Select(i => Specimen($"S{i}")));

    public static VirtualSpecimen Specimen(string id) => new() { Label = id, StrengthNewtons = 400 };

    /// <summary>Starts the controller, waits for the device and homes it.</summary>
    public async Task StartAsync(bool home = true)
    {
        Controller.Start();
        await UntilAsync(s => s.Link == LinkStage.Up && s.Calibration is not null && s.Counts is not null, "connected");
        if (!home) return;
        CommandResult homing = await Controller.HomeAsync();
        Assert.True(homing.Done, homing.Message);
        await UntilAsync(s => s.Bits.HasFlag(Protocol.Messages.StateBits.Homed) && s.Motion == Protocol.Messages.MotionState.Still,
            "homed");
    }

    /// <summary>The same, and starts a sequence.</summary>
    public async Task StartSequenceAsync(SequencePlan plan)
    {
        await StartAsync();
        CommandResult begun = await Controller.StartSequenceAsync(plan);
        Assert.True(begun.Done, begun.Message);
    }

    /// <summary>A feeder's specimens queued and the first one under way, slow enough for a test to step in.</summary>
    public static async Task<RigBench> InMidPullAsync(int specimens = 1)
    {
        var bench = new RigBench(Slow);
        try
        {
            await bench.BeginAsync(specimens);
            await bench.UntilStageAsync(SequenceStage.Pulling);
            return bench;
        }
        catch
        {
            await bench.DisposeAsync();
            throw;
        }
    }

    /// <summary>Queues a feeder's specimens and starts their sequence.</summary>
    public async Task BeginAsync(int specimens, PullSettings? settings = null)
    {
        Queue(specimens);
        await StartSequenceAsync(PlanFor(specimens, settings));
    }

    /// <summary>The one run, once it is recorded.</summary>
    public async Task<PullRecord> RecordedAsync()
    {
        await UntilAsync(_ => !Recorder.Records.IsEmpty, "recorded");
        return Assert.Single(Recorder.Records);
    }

    /// <summary>Waits for something to be seen. Bounded; what was seen last stands in the failure.</summary>
    public async Task<RigSnapshot> UntilAsync(Func<RigSnapshot, bool> seen, string what)
    {
        long began = TimeProvider.System.GetTimestamp();
        while (true)
        {
            RigSnapshot now = Controller.Snapshot;
            if (seen(now)) return now;
            if (TimeProvider.System.GetElapsedTime(began) > WaitMax)
            {
                Assert.Fail($"Not {what} after {WaitMax}: link {now.Link} {now.LinkMessage}; {now.Sequence?.Stage} {now.Sequence?.Reason}; "
                    + $"{now.Motion} {now.Faults} at {now.PositionMillimetres} mm, {now.ForceNewtons} N, {now.Counts} counts");
            }

            // Wall time on purpose: the virtual rig and the device's safety timers run in it.
            await Task.Delay(5, TestContext.Current.CancellationToken);
        }
    }

    public Task<RigSnapshot> UntilStageAsync(SequenceStage stage) => UntilAsync(s => s.Sequence?.Stage == stage, stage.Word());

    public async ValueTask DisposeAsync()
    {
        await Controller.DisposeAsync();
        await Rig.DisposeAsync();
    }
}
