using System.Net.Sockets;
using Microsoft.Extensions.Hosting.Systemd;
using RigDaq.App.Access;
using RigDaq.App.Alarms;
using RigDaq.App.Calibrations;
using RigDaq.App.Callers;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Journal;
using RigDaq.App.Overview;
using RigDaq.App.Recording;
using RigDaq.App.Reporting;
using RigDaq.App.Rigs;
using RigDaq.Archive;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Door;
using RigDaq.Daemon.Telemetry;
using RigDaq.Daemon.Text;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Delivery;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;
using RigDaq.Web;
using RigDaq.Web.Access;

namespace RigDaq.Daemon.Hosting;

/// <summary>
/// The daemon as it runs: the archive, the live rig, publishing and the one web host (dashboard and broker), joined here and
/// nowhere else.
/// </summary>
internal sealed class RigHost : IAsyncDisposable
{
    /// <summary>How long a stop may take before the process goes on without waiting.</summary>
    private static readonly TimeSpan StopMax = TimeSpan.FromSeconds(5);

    /// <summary>Snapshots that may wait to have their runs counted.</summary>
    private const int SnapshotsCountedMax = 64;

    private readonly WebApplication _app;
    private readonly LiveRelay? _relay;
    private readonly AlarmWatch _alarms;
    private readonly AlarmTellers _tellers;
    private readonly ILoggerFactory _loggers;
    private readonly IReadOnlyList<Onlooker> _onlookers;

    private RigHost(WebApplication app, LiveRelay? relay, AlarmWatch alarms, AlarmTellers tellers, IReadOnlyList<Onlooker> onlookers,
        ILoggerFactory loggers) =>
        (_app, _relay, _alarms, _tellers, _onlookers, _loggers) = (app, relay, alarms, tellers, onlookers, loggers);

    /// <summary>Everything that is kept.</summary>
    public required RigArchive Archive { get; init; }

    /// <summary>Makes runs of pulls.</summary>
    public required PullRecorder Recorder { get; init; }

    /// <summary>The live rig.</summary>
    public required RigController Rig { get; init; }

    /// <summary>The folder that everything is kept in.</summary>
    public required string DataFolder { get; init; }

    /// <summary>Where the dashboard listens, on this machine.</summary>
    public required int HttpPort { get; init; }

    /// <summary>Where the embedded broker listens, on this machine; null without one.</summary>
    public required int? MqttPort { get; init; }

    /// <summary>What is open from elsewhere.</summary>
    public AccessOptions Elsewhere => _app.Services.GetRequiredService<AccessOptions>();

    /// <summary>The address to open, with the token that motion from the page needs.</summary>
    public Uri DashboardAddress => _app.Services.GetRequiredService<DashboardAccess>().StartAddress(HttpPort);

    /// <summary>Completes when the daemon is told to end (Ctrl-C, the service manager).</summary>
    public Task WaitForEndAsync(CancellationToken cancellation) => _app.WaitForShutdownAsync(cancellation);

    /// <summary>Opens the archive, stores what a crash left unfinished, starts the web host and the rig.</summary>
    /// <exception cref="IOException">The data folder or a port cannot be had; the message says what to do.</exception>
    public static async Task<RigHost> StartAsync(RigHostPlan plan, CancellationToken cancellation)
    {
        DaemonOptions options = plan.Options;
        // What was made is ended again, the last one first, where a later part cannot be had.
        var made = new EndTogether();
        try
        {
            ILoggerFactory loggers = HostLog.Create(options.Log);
            made.Add(TerminalText.ServePartLog, loggers);
            Socket http = Port(plan, "http", options.Http.Port);
            made.Add(TerminalText.ServePartWeb, http);
            Socket? mqtt = options.Mqtt.Broker == "embedded" ? Port(plan, "mqtt", options.Mqtt.EffectivePort) : null;
            if (mqtt is not null) made.Add(TerminalText.ServePartWeb, mqtt);
            RigArchive archive = RigArchive.OpenEvenDamaged(options.DataFolder, plan.Time, loggers.CreateLogger<RigArchive>());
            archive.Who = () => Caller.Current?.By;
            made.Add(TerminalText.ServePartArchive, archive);
            if (archive.OpenToOthers is { } open) plan.Say(Sentence.Verbatim(open));
            SayDamage(archive, plan.Say);
            var recorder = new PullRecorder(archive, plan.Time, loggers.CreateLogger<PullRecorder>());
            UnfinishedPulls.Store(archive, recorder, plan.Say);
            RigController rig = RigFactory.Create(Setup(plan, archive, recorder, loggers));
            made.Add(TerminalText.ServePartRig, rig);
            Socket? look = options.Http.Look == "lan" ? PortEverywhere(options.Http.LookPort, "http.lookPort") : null;
            if (look is not null) made.Add(TerminalText.ServePartWeb, look);
            Socket? operate = options.Http.Operate == "lan" ? PortEverywhere(options.Http.OperatePort, "http.operatePort") : null;
            if (operate is not null) made.Add(TerminalText.ServePartWeb, operate);
            var ports = new HostPorts(http, mqtt, Door(plan))
            { Look = look, Operate = operate, Certificate = operate is null ? null : OwnCertificate.Of(options, plan.Time) };
            if (ports.Certificate is { } certificate) made.Add(TerminalText.ServePartWeb, certificate);
            if (ports.Door is { } door) made.Add(TerminalText.ServePartWeb, door);
            WebApplication app = Web(plan, archive, rig, loggers, ports);
            made.Add(TerminalText.ServePartWeb, app);
            await app.StartAsync(cancellation).ConfigureAwait(false);
            ILogger log = loggers.CreateLogger<RigHost>();
            LiveRelay? relay = app.Services.GetService<RigPublisher>() is { } publisher
                ? new LiveRelay(rig, publisher, recorder, plan.Time, Failed) : null;
            var tellers = new AlarmTellers(options, app.Services, plan.Time);
            AlarmWatch alarms = Alarms(app, rig, archive, recorder, tellers, plan.Time, Failed);
            rig.Start();
            Onlooker? watchdog = Watchdog.Start(rig, app.Services.GetService<ISystemdNotifier>(), LookFailed);
            var counting = new Onlooker(rig, SnapshotsCountedMax, app.Services.GetRequiredService<RigMetrics>().Look, LookFailed);
            return new RigHost(app, relay, alarms, tellers, watchdog is null ? [counting] : [counting, watchdog], loggers)
            {
                Archive = archive,
                Recorder = recorder,
                Rig = rig,
                DataFolder = options.DataFolder,
                HttpPort = PortPicker.PortOf(http),
                MqttPort = ports.MqttPort,
            };

            void LookFailed(Exception e) => log.LogError(e, "The service manager, or who counts runs, could not be told of the rig.");

            void Failed(Exception e) => log.LogError(e, "What is published could not be told of the rig.");
        }
        catch
        {
            await made.EndAsync(plan.Say).ConfigureAwait(false);
            throw;
        }
    }

    /// <summary>Stops the rig first, then the rest; bounded, and whole whatever one part throws.</summary>
    public async ValueTask DisposeAsync()
    {
        var parts = new EndTogether();
        parts.Add(TerminalText.ServePartLog, _loggers);
        parts.Add(TerminalText.ServePartArchive, Archive);
        parts.Add(TerminalText.ServePartWeb, _app);
        parts.Add(TerminalText.ServePartWeb, () => new ValueTask(_app.StopAsync()));
        parts.Add(TerminalText.ServePartAlarms, _tellers);
        parts.Add(TerminalText.ServePartAlarms, _alarms);
        if (_relay is not null) parts.Add(TerminalText.ServePartRelay, _relay);
        foreach (Onlooker onlooker in _onlookers) parts.Add(TerminalText.ServePartRelay, onlooker);
        parts.Add(TerminalText.ServePartRig, Rig);
        ILogger log = _loggers.CreateLogger<RigHost>();
        await parts.EndAsync(words => log.LogError("{Words}", words)).ConfigureAwait(false);
    }

    private static void SayDamage(RigArchive archive, Action<Sentence> say)
    {
        IReadOnlyList<string> faults = archive.DatabaseFaults();
        foreach (string fault in faults) say(Sentence.Verbatim(fault));
        if (faults.Count > 0) say(TerminalText.ServeDatabaseDamaged);
    }

    private static RigSetup Setup(RigHostPlan plan, RigArchive archive, PullRecorder recorder, ILoggerFactory loggers) => new()
    {
        Link = plan.Link,
        Options = new RigControllerOptions
        {
            GripSeparationAtHomeMillimetres = plan.Options.Sequence.GripSeparationAtHomeMillimetres,
            StiffnessNewtonsPerMillimetre = plan.Options.Sequence.StiffnessNewtonsPerMillimetre,
            SampleRateHertz = plan.Options.Serial.SampleRateHertz,
            ConverterDelaySeconds = plan.Options.Serial.ConverterDelaySeconds,
            Bench = plan.Options.Bench,
        },
        Pulls = new PullSetup(archive, recorder, deviceId => DeviceCalibration.InForce(archive, deviceId, plan.Time)
            ?? DeviceLine.AcceptedClaim(plan.Options, deviceId, archive.Calibrations, plan.Time, plan.Say)),
        Safety = archive.Diary,
        Time = plan.Time,
        Log = loggers.CreateLogger<RigController>(),
    };

    private static WebApplication Web(RigHostPlan plan, RigArchive archive, RigController rig, ILoggerFactory loggers, HostPorts ports)
    {
        DaemonOptions options = plan.Options;
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions
        { ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.ClearProviders();
        builder.Services.AddSingleton(loggers);
        builder.Services.AddSystemd();
        builder.Services.AddSingleton(plan.Time);
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = StopMax);
        builder.Services.AddSingleton<IOutbox>(archive.Outbox);
        builder.Services.AddRigDaqPublishing(PublishingPlan.From(options, ports.MqttPort));
        builder.Services.AddSingleton(ports.Access(options.Http));
        if (ports.Certificate is not null) builder.WebHost.UseKestrelHttpsConfiguration();
        builder.Services.AddSingleton(rig);
        builder.Services.AddSingleton(archive);
        builder.Services.AddSingleton<IDashboardData>(new DashboardData(archive, options, plan.Time));
        builder.Services.AddDashboard();
        builder.Services.AddTelemetry(options.DataFolder);
        if (plan.Commands is { } commands) builder.Services.AddSingleton(commands).AddSingleton<DoorServer>();
        builder.Services.AddHostedService(provider => new MemoryWatch(
            [provider.GetRequiredService<DocumentStore>().BeTight, .. provider.GetService<EmbeddedBroker>() is { } broker
                ? (Action<bool>[])[broker.BeTight] : []],
            () => IsIdle(rig),
            plan.Time,
            loggers.CreateLogger<MemoryWatch>()));
        builder.Services.AddHostedService(
            _ => new TraceLook(archive, () => IsIdle(rig), plan.Time, loggers.CreateLogger<TraceLook>()));
        ports.Listen(builder.WebHost, options.DataFolder);
        WebApplication app = builder.Build();
        if (ports.Mqtt is not null) app.UseRigDaqBroker();
        app.MapDashboard();
        app.MapTelemetry();
        if (plan.Commands is not null)
            app.Map(DoorServer.Path, context => context.RequestServices.GetRequiredService<DoorServer>().RunAsync(context));
        return app;
    }

    private static bool IsIdle(RigController rig) => rig.Snapshot is
    {
        Motion: Protocol.Messages.MotionState.Still,
        Sequence: null or { Stage: SequenceStage.Held or SequenceStage.Finished },
    };

    private static AlarmWatch Alarms(WebApplication app, RigController rig, RigArchive archive, PullRecorder recorder,
        AlarmTellers tellers, TimeProvider time, Action<Exception> failed)
    {
        HappeningBook book = app.Services.GetRequiredService<HappeningBook>();
        return new AlarmWatch(rig, new AlarmDesk(book, time, tellers.Tell), book, recorder, AlarmSources.Of(archive), time, failed);
    }

    private static Socket? Door(RigHostPlan plan)
    {
        if (plan.Commands is null || OperatingSystem.IsWindows()) return null;
        Socket? door = DoorSocket.Bind(plan.Options.DataFolder, out string why);
        if (door is null) plan.Say(TerminalText.ServeNoDoor(why));
        return door;
    }

    private static Socket PortEverywhere(int wanted, string key) => PortPicker.TakeEverywhere(wanted)
        ?? throw new CannotBeDoneException(TerminalText.ServePortElsewhereTaken(wanted, key));

    private static Socket Port(RigHostPlan plan, string what, int wanted)
    {
        Socket socket = PortPicker.Take(wanted, out bool replaced);
        if (!replaced) return socket;
        if (!plan.ReplaceTakenPorts)
        {
            socket.Dispose();
            throw new CannotBeDoneException(TerminalText.ServePortTaken(wanted, what));
        }

        plan.Say(TerminalText.ServePortReplaced(wanted, what, PortPicker.PortOf(socket)));
        return socket;
    }
}
