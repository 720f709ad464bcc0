using System.Collections;
using System.Threading.Channels;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Compliance;
using RigDaq.App.Configuration;
using RigDaq.App.Rigs;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Compliance;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Trace;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Hosting;
using RigDaq.Daemon.Terminal;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.EndToEnd.Tests.Machine;

/// <summary>
/// The machine's give from the bar to the run, over a pseudo-terminal. The virtual rig's frame (2,500 N/mm) and cell (4,000 N/mm) are two
/// springs in series, so that it gives 1/2500 + 1/4000 mm/N (Hooke); the specimen's own stiffness is what a run must come to. These tests
/// wait for wall time, because line, control loop and rig are the real ones.
/// </summary>
public sealed class MachineComplianceTest
{
    private const double TrueGive = (1 / 2500.0) + (1 / 4000.0);
    private const double BarStiffness = 80_000;
    private const double SpecimenStiffness = 600;
    private const double SlipSecondsMax = 5;
    private const int PullsMax = 10;
    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(60);

    [Fact]
    public async Task Measured_on_a_bar_it_leaves_a_run_with_the_specimens_own_stiffness()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        CancellationToken cancellation = TestContext.Current.CancellationToken;
        using var folder = new TemporaryFolder();
        ComplianceRecord? measured;
        var bench = new Bench();
        await using (var rig = new VirtualRig(new VirtualRigOptions { Seed = 5, StartMillimetres = 3 }, TimeProvider.System))
        {
            bench.Rig = rig;
            using var archive = new RigArchive(folder.Path, TimeProvider.System, NullLogger.Instance);
            archive.Calibrations.Save(Calibration(rig.Options));
            measured = await ComplianceMeasureCommand.RunAsync(Job(rig), archive, bench, words => bench.Hear(words), TimeProvider.System,
                cancellation);
            Assert.NotNull(measured);
            Assert.Equal(measured.Id, archive.Compliances.InForceAt(measured.DeviceId, DateTimeOffset.MaxValue)!.Id);
            // What is kept raw comes to the same figures.
            BarPulls raw = archive.Compliances.FindBarPulls(measured.Id)!;
            Assert.Equal([true, false], raw.Pulls.Select(pull => pull.BedsIn));
            Assert.Equal(measured.Fit.MillimetresPerNewton,
                raw.Fit(archive.Calibrations.Find(measured.CalibrationId!)!.Curve, measured.Bar).MillimetresPerNewton);
        }

        // The bar's own give is known to 5 % here, but exactly what it was told: within the stated uncertainty, and that within 2 %.
        double off = measured.Fit.MillimetresPerNewton - TrueGive;
        double u = measured.Fit.StandardUncertaintyMillimetresPerNewton;
        TestContext.Current.TestOutputHelper!.WriteLine($"true {1000 * TrueGive:F4} µm/N, off by {1000 * off:F5}, u {1000 * u:F5}; {string.Join(" | ", bench.Said)}");
        Assert.InRange(Math.Abs(off), 0, 3 * u);
        Assert.InRange(u, 0, 0.02 * TrueGive);
        // Aimed at 3 % above 120 N, a step and the noise more; never near the device's own limit of 150 N.
        Assert.InRange(measured.Fit.ToNewtons, 120, 130);
        Assert.Empty(measured.Fit.Warnings);
        Assert.Contains(bench.Said, line => line.Contains("takes up force at once", StringComparison.Ordinal));

        (Run with, Run without) = await PullAsync(folder, cancellation);
        TraceReading reading = with.Reading!;
        Assert.Equal(measured.Id, reading.ComplianceId);
        Assert.Equal(measured.Fit.MillimetresPerNewton, reading.ComplianceMillimetresPerNewton);
        double slope = reading.InitialSlopeNewtonsPerMillimetre!.Value;
        double slopeU = reading.InitialSlopeStandardUncertaintyNewtonsPerMillimetre!.Value;
        TestContext.Current.TestOutputHelper!.WriteLine($"slope {slope:F2} ± {slopeU:F2} N/mm, without {without.Reading!.InitialSlopeNewtonsPerMillimetre:F2}");

        // Three standard uncertainties: two would fail a good measurement once in twenty.
        Assert.InRange(Math.Abs(slope - SpecimenStiffness), 0, 3 * slopeU);
        Assert.InRange(slopeU, 0, 0.02 * SpecimenStiffness);

        // Without it the springs in series are read: 1/(1/600 + 1/2500 + 1/4000).
        Assert.Equal(1 / ((1 / SpecimenStiffness) + TrueGive), without.Reading!.InitialSlopeNewtonsPerMillimetre!.Value, 5.0);
        Assert.Null(without.Reading.ComplianceId);
        Assert.Equal(2, with.Revision);
    }

    [Fact]
    public async Task While_a_daemon_has_the_rig_the_daemons_own_measures_and_goes_on()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        CancellationToken cancellation = TestContext.Current.CancellationToken;
        using var folder = new TemporaryFolder();
        await using var rig = new VirtualRig(new VirtualRigOptions { Seed = 5, StartMillimetres = 3 }, TimeProvider.System);
        using (var archive = new RigArchive(folder.Path, TimeProvider.System, NullLogger.Instance))
            archive.Calibrations.Save(Calibration(rig.Options));
        ComplianceMeasureCommand.Job job = Job(rig);
        var options = new DaemonOptions { Data = folder.Path };
        options.Http.Port = 0;
        options.Mqtt.Broker = "off";
        options.Sequence.GripSeparationAtHomeMillimetres = job.GripSeparationAtHomeMillimetres;
        await using RigHost host =
            await RigHost.StartAsync(new RigHostPlan { Options = options, Link = job.Link, ReplaceTakenPorts = true }, cancellation);
        var bench = new Bench { Rig = rig };
        ComplianceRecord? measured = await MeasureAsync();
        Assert.NotNull(measured);
        double u = measured.Fit.StandardUncertaintyMillimetresPerNewton;
        Assert.InRange(Math.Abs(measured.Fit.MillimetresPerNewton - TrueGive), 0, 3 * u);
        Assert.Equal(measured.Id, host.Archive.Compliances.InForceAt(measured.DeviceId, DateTimeOffset.MaxValue)!.Id);
        // The daemon goes on with its rig.
        Assert.Equal(LinkStage.Up, host.Rig.Snapshot.Link);

        Task<ComplianceRecord?> MeasureAsync()
        {
            new CommandPlace
            {
                Answers = TextWriter.Null,
                Words = TextWriter.Null,
                Typed = bench,
                Environment = new Hashtable(),
                Archive = host.Archive,
                Rig = host.Rig,
            }.Enter();
            return ComplianceMeasureCommand.RunAsync(job, host.Archive, bench, words => bench.Hear(words), TimeProvider.System,
                cancellation);
        }
    }

    [Fact]
    public async Task A_word_typed_while_it_pulls_stops_the_crosshead_and_another_lets_the_bar_go()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        using var folder = new TemporaryFolder();
        await using var rig = new VirtualRig(new VirtualRigOptions { Seed = 6, StartMillimetres = 3 }, TimeProvider.System);
        Bench bench = new() { Rig = rig };
        bench.WhilePulling = () => bench.Type("stop");
        await MeasureInVainAsync(folder, bench);
        Assert.Contains(bench.Said, line => line.StartsWith("Stopped. The bar may be under load", StringComparison.Ordinal));
        Assert.Contains(bench.Said, line => line.StartsWith("The bar is let go", StringComparison.Ordinal));
        Assert.InRange(rig.TrueForceNewtons, -2, 10);
    }

    [Fact]
    public async Task A_fault_while_it_pulls_is_cleared_by_the_person_before_the_bar_is_let_go()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        using var folder = new TemporaryFolder();
        await using var rig = new VirtualRig(new VirtualRigOptions { Seed = 8, StartMillimetres = 3 }, TimeProvider.System);
        Bench bench = new() { Rig = rig };
        bench.WhilePulling = rig.OpenGuard;
        await MeasureInVainAsync(folder, bench);
        string asked = Assert.Single(bench.Said, line => line.Contains("the guard was opened during motion", StringComparison.Ordinal)
            && line.Contains("Type clear", StringComparison.Ordinal));
        Assert.Matches(@"The force on the bar is [3-9]\d N", asked);
        Assert.Contains(bench.Said, line => line.StartsWith("The bar is let go", StringComparison.Ordinal));
        Assert.InRange(rig.TrueForceNewtons, -2, 10);
    }

    [Fact]
    public async Task A_line_that_is_lost_and_comes_back_leaves_the_bar_to_the_person()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        using var folder = new TemporaryFolder();
        await using var rig = new VirtualRig(new VirtualRigOptions { Seed = 10, StartMillimetres = 3 }, TimeProvider.System);
        Bench bench = new() { Rig = rig };
        // Three seconds it only waits out.
        bench.WhilePulling = () => rig.Inject(new VirtualFault.SilentLine(TimeSpan.FromSeconds(8)));
        await MeasureInVainAsync(folder, bench);
        Assert.Contains(bench.Said, line => line.StartsWith("The bar is let go", StringComparison.Ordinal));
        Assert.InRange(rig.TrueForceNewtons, -2, 10);
    }

    [Fact]
    public async Task A_device_that_has_lost_its_place_stays_as_it_stands_and_the_person_is_told_what_to_do()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        using var folder = new TemporaryFolder();
        await using var rig = new VirtualRig(new VirtualRigOptions { Seed = 9, StartMillimetres = 3 }, TimeProvider.System);
        Bench bench = new() { Rig = rig };
        bench.WhilePulling = rig.Restart;
        await MeasureInVainAsync(folder, bench);
        Assert.Contains(bench.Said, line => line.Contains("turn the screw by hand", StringComparison.Ordinal));
        Assert.False(bench.Said[^2].StartsWith("The bar is let go", StringComparison.Ordinal));
        Assert.InRange(rig.TrueForceNewtons, 20, 130);
    }

    [Fact]
    public async Task A_program_that_is_ended_while_it_pulls_stops_and_says_how_the_bar_is_let_go_by_hand()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        using var folder = new TemporaryFolder();
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        await using var rig = new VirtualRig(new VirtualRigOptions { Seed = 11, StartMillimetres = 3 }, TimeProvider.System);
        using var archive = new RigArchive(folder.Path, TimeProvider.System, NullLogger.Instance);
        archive.Calibrations.Save(Calibration(rig.Options));
        Bench bench = new() { Rig = rig, WhilePulling = ended.Cancel };
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => ComplianceMeasureCommand.RunAsync(Job(rig), archive, bench,
            words => bench.Hear(words), TimeProvider.System, ended.Token));
        Assert.Contains("turn the screw by hand", bench.Said[^1], StringComparison.Ordinal);
        Assert.False(rig.IsMotorMoving);
        Assert.InRange(rig.TrueForceNewtons, 20, 130);
        Assert.Empty(archive.Compliances.OfDevice(null));
    }

    private static async Task MeasureInVainAsync(TemporaryFolder folder, Bench bench)
    {
        using var archive = new RigArchive(folder.Path, TimeProvider.System, NullLogger.Instance);
        archive.Calibrations.Save(Calibration(bench.Rig.Options));
        ComplianceRecord? record = await ComplianceMeasureCommand.RunAsync(Job(bench.Rig), archive, bench, words => bench.Hear(words),
            TimeProvider.System,
            TestContext.Current.CancellationToken);
        TestContext.Current.TestOutputHelper!.WriteLine(string.Join("\n", bench.Said));
        Assert.Null(record);
        Assert.False(bench.Rig.IsMotorMoving);
        Assert.Empty(archive.Compliances.OfDevice(null));
    }

    /// <summary>One specimen through the whole daemon, and the same run read without the compliance and with it again.</summary>
    private static async Task<(Run With, Run Without)> PullAsync(TemporaryFolder folder, CancellationToken cancellation)
    {
        // A machine so busy that the line is silent for half a second ends a pull as it must; then another specimen is pulled.
        string? id = null, study = null;
        for (int i = 1; id is null; i++)
        {
            Assert.InRange(i, 1, PullsMax);
            study = $"bars-{i}";
            id = await PullOneAsync(folder, study, cancellation);
        }

        using StudyStore store = StudyStore.Open(folder.Path);
        string compliance = store.Archive.Runs.Find(id)!.Reading!.ComplianceId!;
        Assert.Equal(1, StudyRecomputeCommand.Recompute(store, study!, null, "none", DateTimeOffset.UnixEpoch));
        Run without = store.Archive.Runs.Find(id)!;
        Assert.Equal(1, StudyRecomputeCommand.Recompute(store, study!, null, compliance, DateTimeOffset.UnixEpoch));
        Run with = store.Archive.Runs.Find(id)!;
        Assert.Contains("read with the machine compliance", with.RevisionReason, StringComparison.Ordinal);
        return (with, without);
    }

    /// <returns>The run's id; null where the sequence was held.</returns>
    private static async Task<string?> PullOneAsync(TemporaryFolder folder, string study, CancellationToken cancellation)
    {
        await using var rig = new VirtualRig(new VirtualRigOptions { Seed = 7, StartMillimetres = 3 }, TimeProvider.System);
        rig.QueueSpecimens([new VirtualSpecimen
            { Label = "S1", StrengthNewtons = 300, StiffnessNewtonsPerMillimetre = SpecimenStiffness }]);
        var options = new DaemonOptions { Data = folder.Path };
        options.Http.Port = 0;
        options.Mqtt.Broker = "off";
        using var given = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        Task<DateTimeOffset> broke = WhenItBreaksAsync(rig, given.Token);
        try
        {
            await using RigHost host =
                await RigHost.StartAsync(new RigHostPlan { Options = options, Link = Link(rig), ReplaceTakenPorts = true }, cancellation);
            host.Archive
                .Studies.Save(new Core.Specimens.Study
                {
                    Id = study,
                    Name = "bars",
                    CreatedAt = DateTimeOffset.UnixEpoch,
                    SettingName = "nozzle temperature",
                    SettingUnit = "°C"
                }, "for the test");
            await host.Rig.WhenAsync(s => s.Link == LinkStage.Up && s.Counts is not null && s.Calibration is not null, WaitMax,
                Sentence.Verbatim("the device"), cancellation);
            if (!(await host.Rig.HomeAsync()).Done) return null;
            RigSnapshot home = await host.Rig.WhenAsync(
                s => s.Link != LinkStage.Up
                    || (s.Bits.HasFlag(Protocol.Messages.StateBits.Homed) && s.Motion == Protocol.Messages.MotionState.Still), WaitMax,
                    Sentence.Verbatim("home"), cancellation);
            if (home.Link != LinkStage.Up) return null;
            CommandResult started = await host.Rig.StartSequenceAsync(new SequencePlan
            {
                SequenceId = Guid.CreateVersion7().ToString(),
                StudyId = study,
                SpecimenIds = ["S1"],
                Settings = new PullSettings { ZeroSeconds = 0.5, ReturnSpeedMillimetresPerSecond = 10, SpeedMillimetresPerSecond = 0.2 },
            });
            if (!started.Done
                && (host.Rig.Snapshot.LinksLost > 0 || host.Rig.Snapshot.Faults != Protocol.Messages.DeviceFaults.None)) return null;
            Assert.True(started.Done, started.Message);
            RigSnapshot end = await host.Rig.WhenAsync(s => s.LastRun is not null || s.Sequence is { Stage: SequenceStage.Held }, WaitMax,
                Sentence.Verbatim("the stored run"), cancellation);
            if (end.LastRun is not { Ending: PullEnding.Broken } run) return null;
            TestContext.Current.TestOutputHelper!.WriteLine(
                $"stop {end.StopLatency!.Value.TotalMilliseconds:F2} ms after the deciding sample's arrival, {end.SampleToStop!.Value.TotalMilliseconds:F1} ms after the sample; newest sample {end.SampleAge!.Value.TotalMilliseconds:F1} ms old");
            CheckWallTime(run, await broke);
            return run.Head.RunId;
        }
        finally
        {
            await given.CancelAsync();
            await ((Task)broke).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing | ConfigureAwaitOptions.ContinueOnCapturedContext);
        }
    }

    private static async Task<DateTimeOffset> WhenItBreaksAsync(VirtualRig rig, CancellationToken cancellation)
    {
        // Wall time: the virtual rig pulls in it; within two minutes even on a busy machine.
        for (int i = 0; i < 60_000 && rig.PullsMade == 0; i++) await Task.Delay(2, cancellation);
        Assert.NotEqual(0, rig.PullsMade);
        return DateTimeOffset.UtcNow;
    }

    private static void CheckWallTime(Run run, DateTimeOffset truth)
    {
        double off = (run.BrokeAt!.Value - truth).TotalSeconds;
        TestContext.Current.TestOutputHelper!.WriteLine($"broke at {run.BrokeAt:O}, {1000 * off:F1} ms off when it was seen to break");

        // Seen: 6 ms early on a quiet machine. On a busy one the virtual rig's clock stands still now and then, as no device's does, and
        // the line follows it only later: then times are early by that.
        Assert.InRange(off, -SlipSecondsMax, SlipSecondsMax);
        Assert.InRange(run.ContactAt!.Value, run.FirstSampleAt!.Value, run.BrokeAt!.Value);
        Assert.InRange(run.BrokeAt!.Value, run.Head.StartedAt.AddSeconds(-SlipSecondsMax), run.EndedAt.AddSeconds(SlipSecondsMax));
    }

    private static ComplianceMeasureCommand.Job Job(VirtualRig rig) => new()
    {
        Link = Link(rig),
        Plan = new BarPullPlan { ForceNewtons = 120, Pulls = 2 },
        // 100 mm of steel, 39 mm²: 80,000 N/mm.
        Bar = new StiffBar(100, 100 * BarStiffness / (1000 * StiffBar.SteelGigapascals)),
    };

    private static SerialRigLinkOpener Link(VirtualRig rig) => new(new SerialLinkSettings { Path = rig.OpenPty(), BaudRate = 250_000 });

    private static CalibrationRecord Calibration(VirtualRigOptions options) => new()
    {
        Id = Guid.CreateVersion7().ToString(),
        DeviceId = options.DeviceId.ToString("X16", System.Globalization.CultureInfo.InvariantCulture),
        AcceptedAt = DateTimeOffset.UnixEpoch,
        ValidUntil = DateTimeOffset.MaxValue,
        Curve = new ForceCurve([options.NewtonsPerCount]),
        GreatestReferenceNewtons = 1000,
        NoiseCounts = options.NoiseCounts,
    };

    /// <summary>A person at the rig, who does what the terminal says.</summary>
    private sealed class Bench : TextReader
    {
        private readonly Channel<string> _typed = Channel.CreateUnbounded<string>();
        private bool _waits;
        private volatile bool _happened;

        public VirtualRig Rig { get; set; } = null!;

        /// <summary>What happens at 40 N, once.</summary>
        public Action? WhilePulling { get; set; }

        public List<string> Said { get; } = [];

        public override string? ReadLine() =>
            _typed.Reader.WaitToReadAsync().AsTask().GetAwaiter().GetResult() && _typed.Reader.TryRead(out string? line) ? line : null;

        public void Hear(string line)
        {
            Said.Add(line);
            if (line.StartsWith("Type acknowledge", StringComparison.Ordinal)) Type("acknowledge");
            else if (line.Contains("Type zero", StringComparison.Ordinal)) Type("zero");
            else if (line.StartsWith("Type accept", StringComparison.Ordinal)) Type("accept");
            else if (line.Contains("Type home", StringComparison.Ordinal)) Type("home");
            else if (line.Contains("Type how far apart", StringComparison.Ordinal)) Type("4");
            else if (line.Contains("Type clear", StringComparison.Ordinal))
            {
                Rig.CloseGuard();
                Type("clear");
            }
            else if (line.Contains("Type unload", StringComparison.Ordinal)) Type("unload");
            else if (line.StartsWith("Type again", StringComparison.Ordinal)) Type(WhilePulling is null || !_happened ? "again" : "no");
            else if (line.StartsWith("Pulling in", StringComparison.Ordinal) && WhilePulling is not null && !_waits)
            {
                _waits = true;
                _ = HappenAsync(WhilePulling);
            }
            else if (line.Contains("Type pull", StringComparison.Ordinal))
            {
                Rig.OpenGuard();
                Rig.LoadSpecimen(new VirtualSpecimen
                { Label = "bar", StrengthNewtons = 50_000, StiffnessNewtonsPerMillimetre = BarStiffness, SlackMillimetres = 0.02 });
                Rig.CloseGuard();
                Type("pull");
            }
        }

        public void Type(string line) => _typed.Writer.TryWrite(line);

        private async Task HappenAsync(Action what)
        {
            // The virtual rig pulls in wall time, at a speed that the machine's load decides; looked at every 10 ms, for a minute at most.
            for (int i = 0; i < 6000 && Rig.TrueForceNewtons < 40; i++) await Task.Delay(10);
            _happened = true;
            what();
        }
    }
}
