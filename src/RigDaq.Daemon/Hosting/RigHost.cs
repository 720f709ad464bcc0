using System.Net;
using RigDaq.Archive;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Signal;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Calibrating;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Configuration;
using RigDaq.Daemon.Dashboard;
using RigDaq.Daemon.Recording;
using RigDaq.Daemon.Text;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Delivery;
using RigDaq.Rig.Control;

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
    private readonly CheckWeightWatch _checkWeight;

    private RigHost(WebApplication app, RigArchive archive, PullRecorder recorder, RigController rig, LiveRelay? relay, string dataFolder, int httpPort, int? mqttPort)
    {
        _app = app;
        Archive = archive;
        Recorder = recorder;
        Rig = rig;
        _relay = relay;
        _checkWeight = new CheckWeightWatch(rig, archive);
        DataFolder = dataFolder;
        HttpPort = httpPort;
        MqttPort = mqttPort;
    }

    /// <summary>Everything that is kept.</summary>
    public RigArchive Archive { get; }

    /// <summary>Makes runs of pulls.</summary>
    public PullRecorder Recorder { get; }

    /// <summary>The live rig.</summary>
    public RigController Rig { get; }

    /// <summary>The folder that everything is kept in.</summary>
    public string DataFolder { get; }

    /// <summary>Where the dashboard listens, on this machine.</summary>
    public int HttpPort { get; }

    /// <summary>Where the embedded broker listens, on this machine; null without one.</summary>
    public int? MqttPort { get; }

    /// <summary>The address to open, with the token that motion from the page needs.</summary>
    public Uri DashboardAddress => _app.Services.GetRequiredService<DashboardAccess>().StartAddress(HttpPort);

    /// <summary>Completes when the daemon is told to end (Ctrl-C, the service manager).</summary>
    public Task WaitForEndAsync(CancellationToken cancellation) => _app.WaitForShutdownAsync(cancellation);

    /// <summary>Opens the archive, stores what a crash left unfinished, starts the web host and the rig.</summary>
    /// <exception cref="IOException">The data folder or a port cannot be had; the message says what to do.</exception>
    public static async Task<RigHost> StartAsync(RigHostPlan plan, CancellationToken cancellation)
    {
        DaemonOptions options = plan.Options;
        int httpPort = Port(plan, "http", options.Http.Port);
        int? mqttPort = options.Mqtt.Broker == "embedded" ? Port(plan, "mqtt", options.Mqtt.EffectivePort) : null;
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions
        {
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.Logging.ClearProviders().AddSimpleConsole(console => console.SingleLine = true).SetMinimumLevel(LogLevel.Warning);
        // Standard output belongs to answers.
        builder.Services.Configure<Microsoft.Extensions.Logging.Console.ConsoleLoggerOptions>(console => console.LogToStandardErrorThreshold = LogLevel.Trace);
        builder.Services.AddSystemd();
        builder.Services.AddSingleton(plan.Time);
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = StopMax);
        using ILoggerFactory early = LoggerFactory.Create(logging => logging.AddSimpleConsole(console => console.SingleLine = true)
            .AddFilter(level => level >= LogLevel.Warning).Services.Configure<Microsoft.Extensions.Logging.Console.ConsoleLoggerOptions>(console => console.LogToStandardErrorThreshold = LogLevel.Trace));

        var archive = new RigArchive(options.DataFolder, plan.Time, early.CreateLogger<RigArchive>());
        try
        {
            var recorder = new PullRecorder(archive, archive, archive, archive, plan.Time, early.CreateLogger<PullRecorder>(), archive);
            UnfinishedPulls.Store(archive, recorder, plan.Say);
            builder.Services.AddSingleton<IOutbox>(archive);
            builder.Services.AddRigDaqPublishing(PublishingPlan.From(options, mqttPort));
            var rig = new RigController(
                new RigServices
                {
                    Link = plan.Link,
                    Detectors = (settings, noiseNewtons) => new BreakDetector(settings, noiseNewtons),
                    Captures = archive.Captures,
                    Recorder = recorder,
                    Calibrations = deviceId => CalibrationValidity.InForce(
                        archive.OfDevice(deviceId), plan.Time.GetUtcNow(), new RigAsItIs(deviceId), archive.Invalidations(deviceId))
                        ?? DeviceLine.AcceptedClaim(options, deviceId, archive, plan.Time, plan.Say),
                    Time = plan.Time,
                    Log = early.CreateLogger<RigController>(),
                },
                new RigControllerOptions
                {
                    GripSeparationAtHomeMillimetres = options.Sequence.GripSeparationAtHomeMillimetres,
                    SampleRateHertz = options.Serial.SampleRateHertz,
                });
            builder.Services.AddSingleton(rig);
            builder.Services.AddSingleton(archive);
            builder.Services.AddSingleton<IDashboardData>(new DashboardData(archive, options, plan.Time));
            builder.Services.AddSingleton(new RunShelf(archive, archive, archive, options.DataFolder));
            builder.Services.AddDashboard();
            builder.WebHost.ConfigureKestrel(kestrel =>
            {
                kestrel.Listen(IPAddress.Loopback, httpPort);
                if (mqttPort is { } port) kestrel.Listen(IPAddress.Loopback, port, listen => listen.UseRigDaqBroker());
            });
            WebApplication app = builder.Build();
            if (mqttPort is not null) app.UseRigDaqBroker();
            app.MapDashboard();
            await app.StartAsync(cancellation).ConfigureAwait(false);
            LiveRelay? relay = app.Services.GetService<RigPublisher>() is { } publisher ? new LiveRelay(rig, publisher, recorder, plan.Time) : null;
            var host = new RigHost(app, archive, recorder, rig, relay, options.DataFolder, httpPort, mqttPort);
            rig.Start();
            return host;
        }
        catch
        {
            archive.Dispose();
            throw;
        }
    }

    /// <summary>Stops the rig first, then the rest; bounded.</summary>
    public async ValueTask DisposeAsync()
    {
        _checkWeight.Dispose();
        await Rig.DisposeAsync().ConfigureAwait(false);
        if (_relay is not null) await _relay.DisposeAsync().ConfigureAwait(false);
        await _app.StopAsync().ConfigureAwait(false);
        await _app.DisposeAsync().ConfigureAwait(false);
        Archive.Dispose();
    }

    private static int Port(RigHostPlan plan, string what, int wanted)
    {
        int port = PortPicker.Pick(wanted, out bool replaced);
        if (!replaced) return port;
        if (!plan.ReplaceTakenPorts)
            throw new CannotBeDoneException(TerminalText.ServePortTaken(wanted, what));
        plan.Say(TerminalText.ServePortReplaced(wanted, what, port));
        return port;
    }
}
