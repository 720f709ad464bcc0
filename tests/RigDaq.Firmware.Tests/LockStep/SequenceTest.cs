using System.Globalization;
using System.Text.Json;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Trace;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Firmware.Tests.Support;
using RigDaq.Tests.Shared;

namespace RigDaq.Firmware.Tests.LockStep;

/// <summary>The main job on the real image: weights, then a sequence, as a person does it from the page.</summary>
public sealed class SequenceTest
{
    private static readonly double[] Breaks = [80, 120];

    [Fact]
    public async Task Weights_hung_as_the_page_asks_give_the_cells_line_and_a_sequence_the_forces_at_which_its_specimens_broke()
    {
        Assert.SkipUnless(File.Exists(Listener.Program), $"{Listener.Program} is not installed (bash tools/test.sh installs it)");
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: Breaks.Length, calibrated: false);
        await using Listener listener = Listener.Start(daemon.Host.MqttPort!.Value, $"rigdaq/{Bench.RigName}/#");
        await CalibrateAsync(daemon);
        await daemon.HomeAsync();
        await daemon.PullAllAsync(Breaks);

        Run[] runs = [.. daemon.Runs.OrderBy(run => run.Head.StartedAt)];
        Assert.Equal(["S1", "S2"], runs.Select(run => run.Head.SpecimenId));
        for (int i = 0; i < Breaks.Length; i++)
        {
            Assert.Equal(PullEnding.Broken, runs[i].Ending);
            TraceReading reading = runs[i].Reading!;
            // Between two of 80 conversions a second at 1 mm/s on 50 N/mm the force rises by 0.63 N: the greatest sample lies that much
            // below at most.
            double rise = Bench.StiffnessNewtonsPerMillimetre * Bench.SpeedMillimetresPerSecond / 80;
            Assert.InRange(reading.RawPeakForceNewtons!.Value, Breaks[i] - rise - 0.05, Breaks[i] + 0.05);
            // The estimate adds half of that and the converter's delay; the board's converter has none, though its firmware says so.
            Assert.InRange(reading.PeakForceNewtons!.Value, Breaks[i] - reading.UnderReadNewtons!.Value, Breaks[i]
                + reading.UnderReadNewtons.Value);
            Assert.Equal(reading.PeakForceNewtons.Value / Bench.AreaSquareMillimetres, runs[i].Strength!.Megapascals, 1e-9);
        }

        Assert.Equal((0L, 0L, 0L), (daemon.Now.SamplesLost, daemon.Now.FramesBad, daemon.Now.DeviceRestarts));
        await ToldAsync(daemon, runs, listener);
    }

    [Fact]
    public async Task The_same_commands_give_the_same_stored_counts_every_time()
    {
        (long, int, int)[][] first = await OnceAsync(), second = await OnceAsync();
        Assert.Equal(Breaks.Length, first.Length);
        Assert.All(first, pull => Assert.True(pull.Length > 100, $"{pull.Length} samples"));
        Assert.Equal(first, second);

        static async Task<(long, int, int)[][]> OnceAsync()
        {
            await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: Breaks.Length);
            await daemon.HomeAsync();
            await daemon.PullAllAsync(Breaks);
            return [.. daemon.Runs.OrderBy(run => run.Head.StartedAt).Select(run =>
                daemon.Host.Archive.Runs.FindPull(run.Head.RunId)!.Trace.Samples
                    .Select(s => (s.DeviceMicroseconds, s.Counts, s.CrossheadSteps))
                    .ToArray())];
        }
    }

    /// <summary>Hangs whatever the page asks for, to the milligram, and accepts what came of it.</summary>
    private static async Task CalibrateAsync(LockStepDaemon daemon)
    {
        await daemon.DoAsync("calibration-begin", new
        {
            cautionsRead = true,
            person = "bench",
            latitudeDegrees = 52.2,
            heightMetres = 34,
            weights = Enumerable.Range(1, 4).Select(i => new { name = $"weight {i}", kilograms = 10, basis = "M1" }),
            steps = 4,
            preloadCycles = 1,
            risingSeries = 2,
            fallingSeries = 1,
            dwellSeconds = 2,
            zeroReturnSeconds = 2,
            warmUpSeconds = 5,
        });
        double? hung = null;
        while (true)
        {
            JsonElement view = await daemon.Page.GetAsync(Addresses.Of("calibration"));
            if (view.GetProperty("phase").GetString() == "review") break;
            double wanted = view.GetProperty("wantedNewtons") is { ValueKind: JsonValueKind.Number } newtons ? newtons.GetDouble() : 0;
            if (wanted != hung) await daemon.Board.Ask(string.Create(CultureInfo.InvariantCulture, $"weight {wanted:R}"));
            hung = wanted;
            await daemon.RunAsync(TimeSpan.FromSeconds(0.25));
            Assert.True(daemon.Now.Counts is not null && daemon.Runs.Count == 0);
        }

        await daemon.DoAsync("calibration-accept", new { degree = 1 });
        await daemon.Board.Ask("weight 0");
        await daemon.RunAsync(TimeSpan.FromSeconds(2));
        CalibrationRecord record = Assert.Single(daemon.Host.Archive.Calibrations.OfDevice(daemon.Now.Device!.Id));
        // The board's cell is a straight line with 20 counts of noise; the mean of several conversions is finer than that.
        Assert.Equal(Bench.NewtonsPerCount, record.Curve.Coefficients[0], Bench.NewtonsPerCount * 1e-4);
        // 40 kg at 9.8126 m/s² (GRS80 and free air at 52.2°, 34 m), less the air's buoyancy of 0.015 %.
        Assert.Equal(40 * 9.8126 * (1 - 0.00015), record.GreatestReferenceNewtons, 0.02);
    }

    /// <summary>The page and a listener at the broker tell the same as the archive holds.</summary>
    private static async Task ToldAsync(LockStepDaemon daemon, Run[] runs, Listener listener)
    {
        JsonElement list = await daemon.Page.GetAsync(Addresses.Of("runs"));
        Assert.Equal(runs.Select(run => run.Head.RunId).Order(), list.GetProperty("runs").EnumerateArray()
            .Select(run => run.GetProperty("runId").GetString()).Order());
        JsonElement page = await daemon.UntilPageAsync(s => s.GetProperty("sequence").GetProperty("stage").GetString() == "finished",
            "the end");
        Assert.Equal(Breaks.Length, page.GetProperty("sequence").GetProperty("broken").GetInt32());
        Assert.Equal(runs[^1].Strength!.Megapascals, page.GetProperty("lastRun").GetProperty("strengthMegapascals").GetDouble(), 1e-9);
        string last = $"rigdaq/{Bench.RigName}/runs/{runs[^1].Head.RunId}";
        Task<IReadOnlyList<HeardMessage>> hearing = listener.UntilAsync(message => message.Topic == last, TimeSpan.FromSeconds(20));
        while (!hearing.IsCompleted)
        {
            await daemon.RunAsync(TimeSpan.FromSeconds(0.1));
            await Task.WhenAny(hearing, Task.Delay(20)); // the broker and the listener run in wall time
        }

        IReadOnlyList<HeardMessage> heard = await hearing;
        foreach (Run run in runs)
        {
            JsonElement told = heard.Last(message => message.Topic.EndsWith(run.Head.RunId, StringComparison.Ordinal)).Payload;
            Assert.Equal("broken", told.GetProperty("ending").GetString());
            Assert.Equal(run.Reading!.PeakForceNewtons!.Value, told.GetProperty("peakForceNewtons").GetDouble(), 1e-9);
        }
    }
}
