using System.Globalization;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Core.Calibration;
using RigDaq.Core.Signal;
using RigDaq.Core.Strength;
using RigDaq.Protocol.Messages;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Rig.Control;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Firmware.Tests;

/// <summary>The real image of the firmware with the real controller in front of it, on one clock.</summary>
internal sealed class FirmwareBench : IAsyncDisposable
{
    /// <summary>What the board's cell gives.</summary>
    public const double NewtonsPerCount = 1e-4;

    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(60);
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));

    private FirmwareBench(SimulatedBoard board)
    {
        Board = board;
        Cable = new LockStepCable(board, _time);
        Controller = new RigController(Services(new PipeRigLinkOpener("simulated board", Cable.Connect, _time), _time), Options);
    }

    public SimulatedBoard Board { get; }

    public LockStepCable Cable { get; }

    public RigController Controller { get; }

    public MemoryJournal Journal { get; } = new();

    public MemoryRecorder Recorder { get; } = new();

    public static RigControllerOptions Options => new()
    {
        HandMotion = new PullSettings { ForceLimitNewtons = 300, CompressionLimitNewtons = 40 },
    };

    public static SequencePlan PlanFor(int specimens) => new()
    {
        SequenceId = "0190a0a0-0000-7000-8000-000000000002",
        StudyId = "bench",
        SpecimenIds = [.. Enumerable.Range(1, specimens).Select(i => string.Create(CultureInfo.InvariantCulture, $"S{i}"))],
        AnnouncedDelay = SequencePlan.AnnouncedDelayMin,
        Settings = new PullSettings
        {
            SpeedMillimetresPerSecond = 1,
            SlackSpeedMillimetresPerSecond = 1,
            ForceLimitNewtons = 300,
            CompressionLimitNewtons = 40,
        },
    };

    /// <summary>Switches the board on and connects.</summary>
    public static async Task<FirmwareBench> Start(bool home = true)
    {
        var bench = new FirmwareBench(await SimulatedBoard.Start(SimulatedBoard.LockStep));
        bench.Controller.Start();
        await bench.Until(s => s.Link == LinkStage.Up && s.Calibration is not null && s.Counts is not null, "connected");
        if (!home) return bench;
        bench.Controller.AcknowledgeCautions(Cautions.HandMotionScope);
        CommandResult homing = await bench.Ask(bench.Controller.HomeAsync());
        Assert.True(homing.Done, homing.Message);
        await bench.Until(s => s.Bits.HasFlag(StateBits.Homed) && s.Motion == MotionState.Still, "homed");
        return bench;
    }

    /// <summary>Starts a sequence, after the cautions were read.</summary>
    public async Task StartSequence(SequencePlan plan)
    {
        Controller.AcknowledgeCautions(plan.SequenceId);
        CommandResult begun = await Ask(Controller.StartSequenceAsync(plan));
        Assert.True(begun.Done, begun.Message);
    }

    /// <summary>A person opens the guard, puts the next specimen in and closes the guard.</summary>
    public async Task ChangeSpecimen(double breakNewtons)
    {
        await Until(s => s.Sequence is { Stage: SequenceStage.WaitingForSpecimen } q && q.Reason.Contains("Open the guard", StringComparison.Ordinal), "asked for a specimen");
        await Board.Ask("guard 0");
        await Run(TimeSpan.FromSeconds(0.5));
        await Board.Ask(string.Create(CultureInfo.InvariantCulture, $"specimen 50 0.5 {breakNewtons}"));
        await Run(TimeSpan.FromSeconds(0.5));
        await Board.Ask("guard 1");
    }

    /// <summary>The mean counts with so many newtons hung on the cell, once they have settled.</summary>
    public async Task<double> CountsUnder(double newtons)
    {
        await Board.Ask(string.Create(CultureInfo.InvariantCulture, $"weight {newtons}"));
        await Run(TimeSpan.FromSeconds(2));
        return Controller.Snapshot.Counts!.Value;
    }

    /// <summary>Lets time go on until a command is answered.</summary>
    public async Task<CommandResult> Ask(Task<CommandResult> command)
    {
        for (TimeSpan waited = TimeSpan.Zero; !command.IsCompleted; waited += LockStepCable.Slice)
        {
            Assert.True(waited < WaitMax, "a command was not answered");
            await Cable.Step(Controller);
        }

        return await command;
    }

    public async Task Run(TimeSpan span)
    {
        for (TimeSpan waited = TimeSpan.Zero; waited < span; waited += LockStepCable.Slice) await Cable.Step(Controller);
    }

    /// <summary>Lets time go on until something is seen.</summary>
    public async Task<RigSnapshot> Until(Func<RigSnapshot, bool> seen, string what)
    {
        for (TimeSpan waited = TimeSpan.Zero; ; waited += LockStepCable.Slice)
        {
            RigSnapshot now = Controller.Snapshot;
            if (seen(now)) return now;
            Assert.True(waited < WaitMax, $"Not {what} after {WaitMax}: link {now.Link} {now.LinkMessage}; {now.Sequence?.Stage} {now.Sequence?.Reason}; "
                + $"{now.Motion} {now.Faults} at {now.PositionMillimetres} mm, {now.ForceNewtons} N, {now.Counts} counts");
            await Cable.Step(Controller);
        }
    }

    /// <summary>A controller's services with stores in memory.</summary>
    public RigServices Services(IRigLinkOpener link, TimeProvider time) => new()
    {
        Link = link,
        Detectors = (settings, noise) => new BreakDetector(settings, noise),
        Captures = Journal,
        Recorder = Recorder,
        Calibrations = CalibrationOf,
        Time = time,
    };

    public static CalibrationRecord CalibrationOf(string deviceId) => new()
    {
        Id = "0190a0a0-0000-7000-8000-000000000001",
        DeviceId = deviceId,
        AcceptedAt = DateTimeOffset.UnixEpoch,
        ValidUntil = DateTimeOffset.MaxValue,
        Curve = new ForceCurve([NewtonsPerCount]),
        GreatestReferenceNewtons = 1000,
    };

    public async ValueTask DisposeAsync()
    {
        Task ending = Controller.DisposeAsync().AsTask();
        // It sends its stop and waits for the answer: time has to go on for that, but not for ever.
        for (int i = 0; i < 40 && !ending.IsCompleted; i++)
        {
            await Cable.Carry();
            await Task.WhenAny(ending, Task.Delay(5));
        }

        await Board.DisposeAsync();
        await ending;
    }
}
