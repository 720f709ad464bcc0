using RigDaq.Core.Pulls;

namespace RigDaq.App.Configuration;

/// <summary>Everything that a person may set; docs/configuration.md has the same list in words.</summary>
internal sealed class DaemonOptions
{
    /// <summary>The rig's name, in topics and reports: small letters, digits and hyphens.</summary>
    public string Name { get; set; } = "rig";

    /// <summary>Where everything is kept; null for the user's data folder by the system's convention.</summary>
    public string? Data { get; set; }

    public HttpOptions Http { get; set; } = new();

    public MqttOptions Mqtt { get; set; } = new();

    public LogOptions Log { get; set; } = new();

    public AlarmOptions Alarm { get; set; } = new();

    public SerialOptions Serial { get; set; } = new();

    public SiteOptions Site { get; set; } = new();

    /// <summary>How a pull is driven and bounded.</summary>
    public PullSettings Pull { get; set; } = new();

    public SequenceOptions Sequence { get; set; } = new();

    /// <summary>What is known of caliper and load train.</summary>
    public BenchInputs Bench { get; set; } = new();

    /// <summary>The units that people read.</summary>
    public UnitChoice Units { get; set; } = new();

    /// <summary>The data folder in force.</summary>
    public string DataFolder => Data ?? DefaultDataFolder;

    /// <summary>XDG_DATA_HOME or ~/.local/share on Linux, Application Support on macOS, LOCALAPPDATA on Windows.</summary>
    public static string DefaultDataFolder => Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "rigdaq");
}

/// <summary>The dashboard. It listens on this machine only, where nothing else is said.</summary>
internal sealed class HttpOptions
{
    /// <summary>0 for any free port.</summary>
    public int Port { get; set; } = 8377;

    /// <summary>Names besides this machine's own that the pages may be asked for by: in a network, or from a proxy.</summary>
    public string[] Hosts { get; set; } = [];

    /// <summary>Whether a proxy on this machine passes requests on to <see cref="Port"/>.</summary>
    public bool Proxy { get; set; }

    /// <summary>"off", or "lan": whoever has the link may look, and stop, from elsewhere.</summary>
    public string Look { get; set; } = "off";

    /// <summary>Where they come in; 0 for any free port.</summary>
    public int LookPort { get; set; } = 8378;

    /// <summary>"off", or "lan": whoever has an account may operate from elsewhere, over TLS.</summary>
    public string Operate { get; set; } = "off";

    /// <summary>Where they come in; 0 for any free port.</summary>
    public int OperatePort { get; set; } = 8379;

    /// <summary>A PEM file with the certificate that they are shown; null for one of the rig's own, made at the first start.</summary>
    public string? CertificateFile { get; set; }

    /// <summary>A PEM file with its key; null where the certificate's file holds it.</summary>
    public string? CertificateKeyFile { get; set; }
}

/// <summary>Where results and live values are published.</summary>
internal sealed class MqttOptions
{
    /// <summary>"embedded" (a broker in this process, on this machine only), "external" or "off".</summary>
    public string Broker { get; set; } = "embedded";

    /// <summary>The external broker's name or address.</summary>
    public string Host { get; set; } = "localhost";

    /// <summary>The broker's port; 0 for any free port with the embedded one. Null for the usual one: 1883, or 8883 over TLS.</summary>
    public int? Port { get; set; }

    /// <summary>The port in force.</summary>
    public int EffectivePort => Port ?? (Broker == "external" && Tls ? 8883 : 1883);

    /// <summary>The first level of every topic.</summary>
    public string TopicRoot { get; set; } = "rigdaq";

    /// <summary>Null for no log-in.</summary>
    public string? User { get; set; }

    /// <summary>The log-in's secret; better in the environment (RIGDAQ__MQTT__PASSWORD) than in a file.</summary>
    public string? Password { get; set; }

    /// <summary>Whether the external broker is spoken to over TLS.</summary>
    public bool Tls { get; set; }

    /// <summary>Names of those who are to have every result by a topic of their own; none: whoever listens first.</summary>
    public string[] Consumers { get; set; } = [];

    /// <summary>A PEM file with the authority that signed the broker's certificate; null for the system's.</summary>
    public string? TrustFile { get; set; }
}

/// <summary>Who hears of an alarm besides pages and broker.</summary>
internal sealed class AlarmOptions
{
    /// <summary>A program that is started with each alarm, then its arguments; empty for none.</summary>
    public string[] Command { get; set; } = [];

    /// <summary>Where the operator of a push service reaches who runs this rig: mailto: or https:; null for nowhere.</summary>
    public string? Contact { get; set; }
}

/// <summary>What the daemon writes to standard error while it runs.</summary>
internal sealed class LogOptions
{
    /// <summary>"debug", "information", "warning", "error" or "none".</summary>
    public string Level { get; set; } = "warning";

    /// <summary>"text" (a line with its time), "json" (an object a line) or "journal" (a line with the level as systemd reads
    /// it; the journal has the time).</summary>
    public string Format { get; set; } = "text";

    /// <summary>The names of formats that the configuration takes.</summary>
    public static IReadOnlyList<string> Formats { get; } = ["text", "json", "journal"];

    /// <summary>The names of levels that the configuration takes.</summary>
    public static IReadOnlyDictionary<string, LogLevel> Levels { get; } = new Dictionary<string, LogLevel>(StringComparer.Ordinal)
    {
        ["debug"] = LogLevel.Debug,
        ["information"] = LogLevel.Information,
        ["warning"] = LogLevel.Warning,
        ["error"] = LogLevel.Error,
        ["none"] = LogLevel.None,
    };

    /// <summary>The level in force.</summary>
    public LogLevel MinimumLevel => Levels[Level];
}

/// <summary>The line to the rig.</summary>
internal sealed class SerialOptions
{
    /// <summary>For example /dev/ttyACM0, /dev/serial/by-id/… or COM3; needed by serve.</summary>
    public string? Path { get; set; }

    /// <summary>Bits a second; the table in PROTOCOL.md says what a sample rate needs.</summary>
    public int Baud { get; set; } = 250_000;

    /// <summary>Whether DTR is raised when the port opens; it resets some boards.</summary>
    public bool RaiseDtr { get; set; }

    /// <summary>"wire" (our own protocol), "lines" (a device that only prints numbers) or "queries" (a bench instrument that is
    /// asked).</summary>
    public string Speaks { get; set; } = "wire";

    /// <summary>The name of a device that cannot say who it is; its calibration hangs on it, so another cell or amplifier needs another
    /// name. Null for the port's path.</summary>
    public string? Device { get; set; }

    /// <summary>How lines and answers are read; null where that was not set.</summary>
    public LineOptions? Lines { get; set; }

    /// <summary>How an instrument is asked; null for READ? ten times a second.</summary>
    public QueryOptions? Queries { get; set; }

    /// <summary>Whether forces are taken as the device claims them while no calibration is in force.</summary>
    public bool AcceptClaimedForces { get; set; }

    /// <summary>How long before its stamp a conversion looked at the force, in seconds; null: as the device says.</summary>
    public double? ConverterDelaySeconds { get; set; }

    /// <summary>The wanted sample rate in samples/s, where the device lets it be set; null to leave it.</summary>
    public double? SampleRateHertz { get; set; }
}

/// <summary>Where the rig stands: gravity and buoyancy at the calibration.</summary>
internal sealed class SiteOptions
{
    /// <summary>Latitude in degrees, −90 to 90.</summary>
    public double? LatitudeDegrees { get; set; }

    /// <summary>Height above sea level in metres.</summary>
    public double HeightMetres { get; set; }

    /// <summary>Local gravity in m/s² where it is known better than from the latitude.</summary>
    public double? GravityMetresPerSecondSquared { get; set; }
}

/// <summary>How a sequence goes from one specimen to the next.</summary>
internal sealed class SequenceOptions
{
    /// <summary>The announced delay between closing the guard and the pull, in seconds, 2 to 60.</summary>
    public double AnnouncedDelaySeconds { get; set; } = 5;

    /// <summary>The distance between the grips when the crosshead stands at home, in mm.</summary>
    public double GripSeparationAtHomeMillimetres { get; set; } = 40;

    /// <summary>The stiffness of frame and cell in series in N/mm: what a stop can overshoot is reckoned with it. Null: it is
    /// not.</summary>
    public double? StiffnessNewtonsPerMillimetre { get; set; }
}
