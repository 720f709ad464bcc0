using System.Diagnostics.Metrics;
using RigDaq.Core.Pulls;
using RigDaq.Publishing.Delivery;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Telemetry;

/// <summary>What the program counts of itself, for whoever watches machines. Read from the snapshot of the moment when it is asked for;
/// nothing is counted a sample. docs/metrics.md says what each name means.</summary>
internal sealed class RigMetrics : IDisposable
{
    /// <summary>The meter's name.</summary>
    public const string MeterName = "RigDaq";

    /// <summary>So long a device goes on without a keep-alive (PROTOCOL.md, 10).</summary>
    private static readonly TimeSpan DeviceKeepAliveMax = TimeSpan.FromMilliseconds(500);

    private readonly Meter _meter = new(MeterName);
    private readonly Counter<long> _runs;
    private string? _lastRun;

    /// <summary>Begins.</summary>
    /// <param name="rig">What can be seen of the rig now.</param>
    /// <param name="publishing">How publishing stands; null where nothing is published.</param>
    /// <param name="freeBytes">What is left on the data folder's disk, in bytes.</param>
    public RigMetrics(Func<RigSnapshot> rig, Func<PublishingStatus>? publishing, Func<long> freeBytes)
    {
        _runs = _meter.CreateCounter<long>("rigdaq.runs", "{run}");
        Count("rigdaq.samples.received", "{sample}", snapshot => snapshot.SamplesReceived);
        Count("rigdaq.samples.lost", "{sample}", snapshot => snapshot.SamplesLost);
        Count("rigdaq.frames.bad", "{frame}", snapshot => snapshot.FramesBad);
        Count("rigdaq.events.lost", "{event}", snapshot => snapshot.EventsLost);
        Count("rigdaq.link.losses", "{loss}", snapshot => snapshot.LinksLost);
        Count("rigdaq.device.restarts", "{restart}", snapshot => snapshot.DeviceRestarts);
        Count("rigdaq.live.blocks.dropped", "{block}", snapshot => snapshot.LiveBlocksDropped);
        Show("rigdaq.link.up", null, snapshot => snapshot.Link == LinkStage.Up ? 1 : 0);
        Show("rigdaq.motion.allowed", null, snapshot => snapshot.ReasonsAgainstMotion.Count == 0 ? 1 : 0);
        Show("rigdaq.sample.age", "s", snapshot => snapshot.SampleAge?.TotalSeconds);
        Show("rigdaq.stop.latency", "s", snapshot => snapshot.StopLatency?.TotalSeconds);
        Show("rigdaq.sample_to_stop.latency", "s", snapshot => snapshot.SampleToStop?.TotalSeconds);
        Show("rigdaq.keepalive.margin", "s", snapshot => (DeviceKeepAliveMax - snapshot.KeepAliveGapMax)?.TotalSeconds);
        Show("rigdaq.inbox.waiting", "{thing}", snapshot => snapshot.InboxWaiting);
        _meter.CreateObservableGauge("rigdaq.disk.free", freeBytes, "By");
        if (publishing is null) return;
        _meter.CreateObservableGauge("rigdaq.outbox.waiting", () => publishing().Waiting, "{message}");
        _meter.CreateObservableGauge("rigdaq.publishing.up", () => publishing().ResultsUp ? 1 : 0);
        _meter.CreateObservableCounter("rigdaq.publishing.live_blocks.dropped", () => publishing().LiveBlocksDropped, "{block}");
        _meter.CreateObservableCounter("rigdaq.publishing.alarms.dropped", () => publishing().AlarmsDropped, "{alarm}");

        void Count(string name, string unit, Func<RigSnapshot, long> value) =>
            _meter.CreateObservableCounter(name, () => value(rig()), unit);

        // What is not known now is left out: 0 would be a value.
        void Show(string name, string? unit, Func<RigSnapshot, double?> value) => _meter.CreateObservableGauge(name,
            () => value(rig()) is { } known ? [new Measurement<double>(known)] : Array.Empty<Measurement<double>>(), unit);
    }

    /// <summary>A snapshot came: a run that was stored since the last one is counted by its ending.</summary>
    public void Look(RigSnapshot snapshot)
    {
        if (snapshot.LastRun is not { } run || run.Head.RunId == _lastRun) return;
        _lastRun = run.Head.RunId;
        _runs.Add(1, new KeyValuePair<string, object?>("ending", run.Ending.Word()));
    }

    /// <inheritdoc/>
    public void Dispose() => _meter.Dispose();
}
