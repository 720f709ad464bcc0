using OpenTelemetry.Metrics;
using RigDaq.Publishing.Delivery;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Telemetry;

/// <summary>Puts health and metrics into the one web host; on this machine only, as whatever is not opened to others.</summary>
internal static class TelemetryHosting
{
    /// <summary>What the runtime counts of itself: memory, collections, threads.</summary>
    private const string RuntimeMeter = "System.Runtime";

    /// <summary>Registers what counts.</summary>
    public static void AddTelemetry(this IServiceCollection services, string dataFolder)
    {
        services.AddSingleton(provider =>
        {
            RigController rig = provider.GetRequiredService<RigController>();
            RigPublisher? publisher = provider.GetService<RigPublisher>();
            return new RigMetrics(() => rig.Snapshot, publisher is null ? null : () => publisher.Status,
                () => new DriveInfo(dataFolder).AvailableFreeSpace);
        });
        services.AddOpenTelemetry().WithMetrics(metrics => metrics.AddMeter(RigMetrics.MeterName, RuntimeMeter).AddPrometheusExporter());
    }

    /// <summary>Maps <c>/healthz</c>, <c>/readyz</c> and, for Prometheus, <c>/metrics</c>.</summary>
    public static void MapTelemetry(this WebApplication app)
    {
        app.MapHealth();
        app.MapPrometheusScrapingEndpoint("/metrics");
    }
}
