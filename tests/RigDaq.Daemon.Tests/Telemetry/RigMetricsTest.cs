using System.Diagnostics.Metrics;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Daemon.Telemetry;
using RigDaq.Publishing.Delivery;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Tests.Telemetry;

/// <summary>The metrics are those that docs/metrics.md names, and their figures those of the snapshot; what is not known is left
/// out.</summary>
public sealed class RigMetricsTest
{
    [Fact]
    public void The_page_names_each_metric_and_none_that_is_not_there()
    {
        string[] named = [.. File.ReadLines(Path.Combine(House.Page.Root(), "docs", "metrics.md"))
            .Where(line => line.StartsWith("| `rigdaq.", StringComparison.Ordinal)).Select(line => line.Split('`')[1])];
        List<string> there = [];
        using var listener = new MeterListener();
        listener.InstrumentPublished = (instrument, _) =>
        {
            if (instrument.Meter.Name == RigMetrics.MeterName) there.Add(instrument.Name);
        };
        using RigMetrics metrics = Of(RigSnapshot.Nothing);
        listener.Start();
        Assert.Equal(named.Order(StringComparer.Ordinal), there.Distinct().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_figure_is_the_snapshots_and_what_is_not_known_is_left_out()
    {
        Dictionary<string, double> known = Read(RigSnapshot.Nothing with
        {
            SamplesLost = 3,
            KeepAliveGapMax = TimeSpan.FromMilliseconds(120),
            InboxWaiting = 2,
        });
        Assert.Equal(3, known["rigdaq.samples.lost"]);
        // PROTOCOL.md: the device stops 500 ms after the last keep-alive.
        Assert.Equal(0.38, known["rigdaq.keepalive.margin"], 9);
        Assert.Equal(2, known["rigdaq.inbox.waiting"]);
        Assert.Equal(7, known["rigdaq.outbox.waiting"]);
        Assert.Equal(1e9, known["rigdaq.disk.free"]);
        Assert.DoesNotContain("rigdaq.stop.latency", known.Keys);
        Assert.DoesNotContain("rigdaq.keepalive.margin", Read(RigSnapshot.Nothing).Keys);
    }

    [Fact]
    public async Task A_loop_that_makes_snapshots_lives_and_one_that_makes_none_within_its_bound_does_not()
    {
        var time = new FakeTimeProvider { AutoAdvanceAmount = TimeSpan.FromMilliseconds(60) };
        long number = 0;
        Assert.True(await Health.IsAliveAsync(() => RigSnapshot.Nothing with { Number = ++number }, time,
            TestContext.Current.CancellationToken));
        Task<bool> hung = Health.IsAliveAsync(() => RigSnapshot.Nothing, time, TestContext.Current.CancellationToken);
        for (TimeSpan gone = TimeSpan.Zero; !hung.IsCompleted; gone += TimeSpan.FromMilliseconds(60))
        {
            Assert.True(gone < 2 * Health.LoopAnswerMax);
            time.Advance(TimeSpan.FromMilliseconds(60));
            await Task.Yield();
        }

        Assert.False(await hung);
    }

    private static RigMetrics Of(RigSnapshot snapshot) => new(() => snapshot,
        () => new PublishingStatus("", ResultsUp: true, LiveUp: true, 7, Unclaimed: false, 0, 0, ""), () => 1_000_000_000);

    private static Dictionary<string, double> Read(RigSnapshot snapshot)
    {
        using RigMetrics metrics = Of(snapshot);
        Dictionary<string, double> read = [];
        using var listener = new MeterListener();
        listener.InstrumentPublished = (instrument, heard) =>
        {
            if (instrument.Meter.Name == RigMetrics.MeterName) heard.EnableMeasurementEvents(instrument);
        };
        listener.SetMeasurementEventCallback<long>((instrument, value, _, _) => read[instrument.Name] = value);
        listener.SetMeasurementEventCallback<int>((instrument, value, _, _) => read[instrument.Name] = value);
        listener.SetMeasurementEventCallback<double>((instrument, value, _, _) => read[instrument.Name] = value);
        listener.Start();
        listener.RecordObservableInstruments();
        return read;
    }
}
