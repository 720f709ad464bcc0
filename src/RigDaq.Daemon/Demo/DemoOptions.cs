using RigDaq.App.Configuration;
using RigDaq.Daemon.Door;

namespace RigDaq.Daemon.Demo;

/// <summary>How a virtual rig is connected.</summary>
internal enum DemoLine
{
    /// <summary>A pseudo-terminal, so that a real serial port is opened (Linux, macOS).</summary>
    Pty,

    /// <summary>Pipes in this process (any system).</summary>
    InProcess,
}

/// <summary>What the command line of <c>demo</c> says.</summary>
internal sealed record DemoOptions
{
    /// <summary>The folder; null for the demo's own below the user's data folder.</summary>
    public string? Data { get; init; }

    public int HttpPort { get; init; }

    public int MqttPort { get; init; }

    public ulong Seed { get; init; }

    public double TimeScale { get; init; } = 1;

    public int? Breaks { get; init; }

    /// <summary>End when the report is written.</summary>
    public bool Exit { get; init; }

    /// <summary>Whether the rig measures more than its force.</summary>
    public bool Channels { get; init; }

    public DemoLine Line { get; init; }

    /// <summary>Does the commands that come to the folder while the demo runs.</summary>
    public CommandLineRunner? Commands { get; init; }

    /// <summary>What people read.</summary>
    public UnitChoice Units { get; init; } = new();

    /// <summary>What the daemon writes of itself.</summary>
    public LogOptions Log { get; init; } = new();
}
