using System.Globalization;
using Microsoft.Extensions.Hosting.Systemd;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Hosting;

/// <summary>Tells the service manager that the control loop lives: each ping is caused by a snapshot that the loop has made, so a loop
/// that hangs is a service that is started again. The loop itself writes to nobody.</summary>
/// <param name="window">How long the service manager waits for a ping.</param>
/// <param name="ping">Sends one.</param>
/// <param name="time">The clock.</param>
internal sealed class Watchdog(TimeSpan window, Action ping, TimeProvider time)
{
    /// <summary>How many pings are sent within what the service manager waits; sd_watchdog_enabled(3) recommends two at least.</summary>
    public const int PingsAWindow = 4;

    private long? _last;

    /// <summary>What the service manager waits for, as it says so in the environment (sd_watchdog_enabled(3)); null where it does not
    /// wait, or for another process.</summary>
    /// <param name="microseconds">WATCHDOG_USEC.</param>
    /// <param name="process">WATCHDOG_PID.</param>
    /// <param name="own">This process.</param>
    public static TimeSpan? WindowOf(string? microseconds, string? process, int own)
    {
        if (!long.TryParse(microseconds, NumberStyles.None, CultureInfo.InvariantCulture, out long window) || window == 0) return null;
        if (!string.IsNullOrEmpty(process) && process != own.ToString(CultureInfo.InvariantCulture)) return null;
        return TimeSpan.FromMicroseconds(window);
    }

    /// <summary>Begins to ping where a service manager waits for it; else null.</summary>
    public static Onlooker? Start(RigController rig, ISystemdNotifier? manager, Action<Exception> failed)
    {
        TimeSpan? window = WindowOf(Environment.GetEnvironmentVariable("WATCHDOG_USEC"),
            Environment.GetEnvironmentVariable("WATCHDOG_PID"), Environment.ProcessId);
        if (manager is not { IsEnabled: true } || window is not { } known) return null;
        var alive = new ServiceState("WATCHDOG=1");
        // Wall time: the service manager's.
        var watchdog = new Watchdog(known, () => manager.Notify(alive), TimeProvider.System);
        return new Onlooker(rig, snapshotsMax: 1, watchdog.Show, failed);
    }

    /// <summary>The loop has made a snapshot.</summary>
    public void Show(RigSnapshot snapshot)
    {
        if (_last is { } last && time.GetElapsedTime(last) < window / PingsAWindow) return;
        _last = time.GetTimestamp();
        ping();
    }
}
