using System.Net;
using System.Net.Sockets;
using RigDaq.App.Calibrations;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Overview;
using RigDaq.App.Recording;
using RigDaq.App.Reporting;
using RigDaq.App.Rigs;
using RigDaq.Archive;
using RigDaq.Core.Runs;
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

    private readonly WebApplication _app;
    private readonly LiveRelay? _relay;
    private readonly ILoggerFactory _loggers;

    private RigHost(WebApplication app, LiveRelay? relay, ILoggerFactory loggers) => (_app, _relay, _loggers) = (app, relay, loggers);

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
            made.Add(TerminalText.ServePartArchive, archive);
            if (archive.OpenToOthers is { } open) plan.Say(Sentence.Verbatim(open));
            SayDamage(archive, plan.Say);
            var recorder = new PullRecorder(archive, plan.Time, loggers.CreateLogger<PullRecorder>());
            UnfinishedPulls.Store(archive, recorder, plan.Say);
            RigController rig = RigFactory.Create(Setup(plan, archive, recorder, loggers));
            made.Add(TerminalText.ServePartRig, rig);
            int httpPort = PortPicker.PortOf(http);
            int? mqttPort = mqtt is null ? null : PortPicker.PortOf(mqtt);
            WebApplication app = Web(plan, archive, rig, loggers, [http, .. mqtt is null ? Array.Empty<Socket>() : [mqtt]], mqttPort);
            made.Add(TerminalText.ServePartWeb, app);
            await app.StartAsync(cancellation).ConfigureAwait(false);
            ILogger log = loggers.CreateLogger<RigHost>();
            LiveRelay? relay = app.Services.GetService<RigPublisher>() is { } publisher
                ? new LiveRelay(rig, publisher, recorder, () => archive.Trouble, plan.Time, Failed) : null;
            rig.Start();
            return new RigHost(app, relay, loggers)
            {
                Archive = archive,
                Recorder = recorder,
                Rig = rig,
                DataFolder = options.DataFolder,
                HttpPort = httpPort,
                MqttPort = mqttPort,
            };

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
        if (_relay is not null) parts.Add(TerminalText.ServePartRelay, _relay);
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

    private static WebApplication Web(RigHostPlan plan, RigArchive archive, RigController rig, ILoggerFactory loggers, Socket[] sockets,
        int? mqttPort)
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
        builder.Services.AddRigDaqPublishing(PublishingPlan.From(options, mqttPort));
        builder.Services.AddSingleton(rig);
        builder.Services.AddSingleton(archive);
        builder.Services.AddSingleton<IDashboardData>(new DashboardData(archive, options, plan.Time));
        builder.Services.AddDashboard();
        builder.Services.AddHostedService(provider => new MemoryWatch(
            [provider.GetRequiredService<DocumentStore>().BeTight, .. provider.GetService<EmbeddedBroker>() is { } broker
                ? (Action<bool>[])[broker.BeTight] : []],
            () => IsIdle(rig),
            plan.Time,
            loggers.CreateLogger<MemoryWatch>()));
        builder.Services.AddHostedService(
            _ => new TraceLook(archive, () => IsIdle(rig), plan.Time, loggers.CreateLogger<TraceLook>()));
        // The ports were taken before anything else was done: nobody can have come in between.
        builder.WebHost.UseSockets(transport => transport.CreateBoundListenSocket = endpoint =>
            sockets.First(socket => socket.LocalEndPoint is IPEndPoint bound && bound.Port == (endpoint as IPEndPoint)?.Port));
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.Listen((IPEndPoint)sockets[0].LocalEndPoint!);
            if (mqttPort is not null) kestrel.Listen((IPEndPoint)sockets[^1].LocalEndPoint!, listen => listen.UseRigDaqBroker());
        });
        WebApplication app = builder.Build();
        if (mqttPort is not null) app.UseRigDaqBroker();
        app.MapDashboard();
        return app;
    }

    private static bool IsIdle(RigController rig) => rig.Snapshot is
    {
        Motion: Protocol.Messages.MotionState.Still,
        Sequence: null or { Stage: SequenceStage.Held or SequenceStage.Finished },
    };

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
