using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Reporting;
using RigDaq.App.Rigs;
using RigDaq.Core.Calibration;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Hosting;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Daemon.Demo;

/// <summary>The main job on a virtual rig: up, calibrated, a study broken specimen by specimen, reported.</summary>
internal sealed class DemoRun : IAsyncDisposable
{
    /// <summary>How long the virtual rig may take to say hello, and to find its home position.</summary>
    private static readonly TimeSpan ReadyMax = TimeSpan.FromSeconds(60);

    /// <summary>The slowest a specimen may be, in rig time, before the demo gives up waiting for it.</summary>
    private static readonly TimeSpan SpecimenMax = TimeSpan.FromMinutes(5);

    private readonly DemoOptions _options;
    private readonly TimeProvider _time;
    private readonly Action<Sentence> _say;

    private DemoRun(DemoOptions options, TimeProvider time, Action<Sentence> say, DemoScenario scenario, VirtualRig virtualRig,
        RigHost host)
    {
        _options = options;
        _time = time;
        _say = say;
        Scenario = scenario;
        VirtualRig = virtualRig;
        Host = host;
    }

    /// <summary>The study and its truth.</summary>
    public DemoScenario Scenario { get; }

    /// <summary>The rig made of equations.</summary>
    public VirtualRig VirtualRig { get; }

    /// <summary>The daemon.</summary>
    public RigHost Host { get; }

    /// <summary>Brings virtual rig and daemon up.</summary>
    public static async Task<DemoRun> StartAsync(DemoOptions options, TimeProvider time, Action<Sentence> say,
        CancellationToken cancellation)
    {
        DaemonOptions daemon = new()
        {
            Name = "kestrel-lane",
            Data = options.Data ?? DaemonOptions.DefaultDataFolder + "-demo",
            Http = new HttpOptions { Port = options.HttpPort },
            Log = options.Log,
            Mqtt = new MqttOptions { Port = options.MqttPort },
            Units = options.Units,
            // A virtual piece is pulled straight, and a virtual caliper errs by its readings only.
            Bench = new BenchInputs { CaliperErrorMillimetres = 0, BendingPercent = 0 },
        };
        DemoScenario scenario = DemoScenario.Create(options.Seed, options.Breaks, time.GetUtcNow());
        var virtualRig = new VirtualRig(new VirtualRigOptions
        {
            Seed = options.Seed,
            TimeScale = options.TimeScale,
            DeviceName = "Kestrel Lane virtual rig",
            // Steady hands: nobody wants to watch a virtual mass swing.
            SwingShare = 0.004,
            SwingDecaySeconds = 0.4,
            Channels = options.Channels ? [VirtualChannel.Extensometer, VirtualChannel.Thermometer, VirtualChannel.SecondCell] : [],
        }, time);
        try
        {
            RigHost host = await RigHost.StartAsync(
                new RigHostPlan
                {
                    Options = daemon,
                    Link = Link(options.Line, virtualRig, time),
                    ReplaceTakenPorts = true,
                    Time = time,
                    Commands = options.Commands,
                    Say = say
                },
                cancellation).ConfigureAwait(false);
            return new DemoRun(options, time, say, scenario, virtualRig, host);
        }
        catch
        {
            await virtualRig.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    /// <summary>Calibrates, homes and starts the sequence.</summary>
    public async Task StartSequenceAsync(CancellationToken cancellation)
    {
        RigSnapshot up = await Host.Rig.WhenAsync(s => s.Link == LinkStage.Up && s.Counts is not null, ReadyMax, TerminalText.DemoHello,
            cancellation).ConfigureAwait(false);
        var calibration = new DemoCalibration(VirtualRig, Host.Rig, _options.Seed, _time);
        CalibrationRecord record = await calibration.RunAsync(up.Device!.Id, _say, cancellation).ConfigureAwait(false);
        Host.Archive.Calibrations.Save(record);
        (await Host.Rig.SetCalibration(record, record.NoiseCounts).ConfigureAwait(false)).Require();
        (await Host.Rig.HomeAsync().ConfigureAwait(false)).Require();
        await Host.Rig.WhenAsync(s => s.Bits.HasFlag(Protocol.Messages.StateBits.Homed) && s.Motion == Protocol.Messages.MotionState.Still,
            ReadyMax, TerminalText.DemoHome, cancellation).ConfigureAwait(false);

        Host.Archive.Studies.Save(Scenario.Study, TerminalText.DemoStudyMade);
        // What is shown is what is broken, whatever was chosen on the page in an earlier demo.
        if (Host.Archive.Studies.Chosen is not null) Host.Archive.Studies.Choose(Scenario.Study.Id);
        VirtualRig.QueueSpecimens(Scenario.Feed);
        _say(TerminalText.DemoBreaking(Scenario.Order.Count, Scenario.Study.Prints.Count));
        // Only a virtual rig may start without a person's acknowledgement; the rig room holds that.
        (await Host.Rig.StartSequenceAsync(new SequencePlan
        {
            SequenceId = Guid.CreateVersion7(_time.GetUtcNow()).ToString(),
            StudyId = Scenario.Study.Id,
            SpecimenIds = Scenario.Order,
            Settings = new PullSettings(),
            AcceptBeyondCalibration = true,
        }).ConfigureAwait(false)).Require();
    }

    /// <summary>Waits until every specimen is broken; a held sequence is told with its reason.</summary>
    /// <exception cref="CannotBeDoneException">The sequence is held or does not end.</exception>
    public async Task WaitForEndAsync(CancellationToken cancellation)
    {
        TimeSpan bound = ReadyMax + (SpecimenMax * Scenario.Order.Count / Math.Min(1, _options.TimeScale));
        var progress = new SequenceProgress(_say, _options.Units.Units);
        RigSnapshot end = await Host.Rig.WhenAsync(
            snapshot =>
            {
                progress.Show(snapshot);
                return snapshot.Sequence is { Stage: SequenceStage.Finished or SequenceStage.Held };
            },
            bound, TerminalText.DemoEnd, cancellation).ConfigureAwait(false);
        if (end.Sequence!.Stage == SequenceStage.Held) throw new CannotBeDoneException(TerminalText.DemoHeld(end.Sequence.Reason));
    }

    /// <summary>Writes the report and sums up.</summary>
    public DemoAnswer Finish()
    {
        var reporter = new StudyReporter(Host.Archive, _time, _options.Units.Units);
        string report = reporter.Write(Scenario.Study.Id, Path.Combine(Host.DataFolder, $"{Scenario.Study.Id}.html"))
            ?? throw new CannotBeDoneException(TerminalText.DemoStudyGone(Scenario.Study.Id, Host.DataFolder));
        Archive.Storage.OwnersFile.Close(report);
        IReadOnlyList<Run> runs = Host.Archive.Runs.OfStudy(Scenario.Study.Id);
        StudyAnswer answer = StudyComparison.Of(Scenario.Study, runs);
        CalibrationRecord? calibration = runs.Count > 0 ? Host.Archive.Calibrations.Find(runs[0].Head.CalibrationId) : null;
        return new DemoAnswer
        {
            Study = Scenario.Study.Id,
            Runs = runs.Count,
            Endings = runs.GroupBy(run => run.Ending.Word()).ToDictionary(group => group.Key, group => group.Count()),
            Report = report,
            Data = Host.DataFolder,
            Calibration = new DemoCalibrationAnswer(calibration?.Figures?.Class?.Value, calibration?.Figures?.Class?.FromNewtons,
                calibration?.Figures?.Class?.ToNewtons),
            Groups = [.. Scenario.Cut.Select(group => Group(group, runs, answer))],
            Warnings = [.. answer.Warnings, .. answer.Answer?.Warnings ?? []],
        };
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await Host.DisposeAsync().ConfigureAwait(false);
        await VirtualRig.DisposeAsync().ConfigureAwait(false);
    }

    private DemoGroupAnswer Group(GroupKey group, IReadOnlyList<Run> runs, StudyAnswer answer)
    {
        GroupStatistics? statistics = answer.Answer?.Groups.FirstOrDefault(g => g.Material == group.Material
            && g.Condition == group.Condition && g.Setting == group.Setting);
        HashSet<string> ids = [.. answer.Strengths.Where(s => s.Group == group && s.Void is null).Select(s => s.RunId)];
        StrengthResult[] strengths = [.. runs.Where(run => ids.Contains(run.Head.RunId)).Select(run => run.Strength)
            .OfType<StrengthResult>()];
        return new DemoGroupAnswer
        {
            Material = group.Material,
            Condition = group.Condition,
            Setting = group.Setting,
            N = statistics?.N ?? 0,
            MeanMegapascals = statistics?.Mean,
            MeasurementStandardUncertaintyMegapascals = strengths.Length == 0 ? null : MeasurementUncertainty(strengths),
            TruthMegapascals = Scenario.TruthMegapascals(group),
            DrawnMeanMegapascals = Scenario.DrawnMeanMegapascals(group),
        };
    }

    /// <summary>
    /// Of the mean of several measured strengths: what each specimen has of its own shrinks with their number, the calibration's
    /// share does not, because all share it (JCGM 100, 5.2).
    /// </summary>
    private static double MeasurementUncertainty(StrengthResult[] strengths)
    {
        double own = strengths.Sum(s => s.RelativeComparisonUncertaintyMegapascals * s.RelativeComparisonUncertaintyMegapascals)
            / (strengths.Length * (double)strengths.Length);
        double shared = strengths.Average(s => Math.Sqrt(Math.Max(0,
            (s.StandardUncertaintyMegapascals * s.StandardUncertaintyMegapascals)
                - (s.RelativeComparisonUncertaintyMegapascals * s.RelativeComparisonUncertaintyMegapascals))));
        return Math.Sqrt(own + (shared * shared));
    }

    private static IRigLinkOpener Link(DemoLine line, VirtualRig virtualRig, TimeProvider time) => line switch
    {
        DemoLine.Pty => new SerialRigLinkOpener(new SerialLinkSettings { Path = virtualRig.OpenPty() }),
        DemoLine.InProcess => new PipeRigLinkOpener(TerminalText.DemoLine, virtualRig.ConnectInProcess, time),
        _ => throw new ArgumentOutOfRangeException(nameof(line), line, "No such line."),
    };
}
