using RigDaq.App.Configuration;
using RigDaq.Daemon.Door;
using RigDaq.Rig.Links;
using RigDaq.Text;

namespace RigDaq.Daemon.Hosting;

/// <summary>What a running daemon is made from.</summary>
internal sealed record RigHostPlan
{
    /// <summary>The configuration.</summary>
    public required DaemonOptions Options { get; init; }

    /// <summary>The line to the rig, real or virtual.</summary>
    public required IRigLinkOpener Link { get; init; }

    /// <summary>Whether a taken port is replaced by a free one (demo) or refused (serve: others rely on the number).</summary>
    public bool ReplaceTakenPorts { get; init; }

    /// <summary>
    /// Wall time, for everything in the daemon: safety timers, keep-alive, stamps, publishing. Another clock only where the device runs on
    /// the same one (a simulated board in lock step).
    /// </summary>
    public TimeProvider Time { get; init; } = TimeProvider.System;

    /// <summary>Does the commands that come to the data folder from terminals; null where none are taken.</summary>
    public CommandLineRunner? Commands { get; init; }

    /// <summary>Where messages for people go.</summary>
    public Action<Sentence> Say { get; init; } = _ => { };
}
