using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Signal;
using RigDaq.Daemon.Commands;
using RigDaq.Rig.Control;
using RigDaq.Virtual;

namespace RigDaq.Daemon.Demo;

/// <summary>
/// Calibrates the virtual rig's load cell as a person would, with virtual weights of class M1: three rising series and a
/// falling one, each reading taken when the signal is still. The dwells are short, because nobody waits for a virtual mass to settle.
/// </summary>
internal sealed class DemoCalibration(VirtualRig virtualRig, RigController rig, ulong seed, TimeProvider time)
{
    private const int RisingSeries = 3;
    private const double ReadingSeconds = 0.5;
    private const double SettlingSecondsMax = 30;
    private static readonly TimeSpan WallTimeMax = TimeSpan.FromMinutes(10);

    // What hangs at each step, in kg: all of it can be put together from one set.
    private static readonly double[][] Steps = [[10], [20], [20, 20], [20, 20, 20], [20, 20, 20, 20], [20, 20, 20, 20, 10, 5]];

    private static readonly LocalGravity Gravity = LocalGravity.At(52.2, 34);
    private static readonly AirDensity Air = AirDensity.AtHeight(34);

    /// <summary>Takes the readings, fits them, and gives the record to be put in force.</summary>
    /// <param name="deviceId">The virtual rig's id.</param>
    /// <param name="progress">Hears which step is next.</param>
    /// <param name="cancellation">Gives up.</param>
    public async Task<CalibrationRecord> RunAsync(string deviceId, Action<string> progress, CancellationToken cancellation)
    {
        using var bounded = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        bounded.CancelAfter(WallTimeMax);
        using LiveSubscription live = rig.SubscribeLive(LiveSubscription.BlocksMax);
        Weight[] set = Set();
        double[] trueMasses = TrueMasses(set);
        var readings = new List<CalibrationReading>();
        for (int series = 1; series <= RisingSeries; series++)
        {
            bool isLast = series == RisingSeries;
            progress($"Calibrating with virtual weights: series {series} of {RisingSeries}{(isLast ? ", rising and falling" : "")}.");
            virtualRig.TakeMassOff();
            readings.Add(await TakeAsync(live, series, LoadDirection.Rising, ReferenceForce.Zero, bounded.Token).ConfigureAwait(false));
            for (int step = 0; step < Steps.Length; step++) readings.Add(await HangAndTakeAsync(step, LoadDirection.Rising).ConfigureAwait(false));
            for (int step = Steps.Length - 2; isLast && step >= 0; step--) readings.Add(await HangAndTakeAsync(step, LoadDirection.Falling).ConfigureAwait(false));
            virtualRig.TakeMassOff();
            readings.Add(await TakeAsync(live, series, LoadDirection.Falling, ReferenceForce.Zero, bounded.Token).ConfigureAwait(false));

            async Task<CalibrationReading> HangAndTakeAsync(int step, LoadDirection direction)
            {
                int[] hanging = Hanging(step);
                virtualRig.HangMass(hanging.Sum(i => trueMasses[i]), Gravity.MetresPerSecondSquared, airDensity: Air.KilogramsPerCubicMetre);
                ReferenceForce reference = ReferenceForces.Hanging([.. hanging.Select(i => set[i])], Gravity, Air);
                return await TakeAsync(live, series, direction, reference, bounded.Token).ConfigureAwait(false);
            }
        }

        CalibrationFit fit = CalibrationFit.Of(readings, new FitSettings(), new UncertaintyInputs
        {
            FullScaleNewtons = virtualRig.Options.CellCapacityNewtons,
            NonLinearityPercent = 0.02,
            TemperaturePercentPerKelvin = 0.002,
            TemperatureSpreadKelvin = 5,
        });
        var circumstances = new CalibrationCircumstances { Person = "the demo", Place = "Kestrel Lane Workshop (invented)", Cell = "virtual cell", Gravity = Gravity, Air = Air, Weights = set };
        return CalibrationBuilder.Accept(fit, Guid.CreateVersion7(time.GetUtcNow()).ToString(), deviceId, time.GetUtcNow(), circumstances);
    }

    private static Weight[] Set() =>
    [
        .. Enumerable.Range(1, 4).Select(i => Weight.OfClass($"20 kg no. {i}", 20, WeightClass.M1)),
        Weight.OfClass("10 kg", 10, WeightClass.M1),
        Weight.OfClass("5 kg", 5, WeightClass.M1),
    ];

    /// <summary>Each weight is off by something within its class: nobody knows it, and the uncertainty has to cover it.</summary>
    private double[] TrueMasses(Weight[] set)
    {
        var random = new Random(unchecked((int)seed));
        return [.. set.Select(weight => weight.MassKilograms + (((2 * random.NextDouble()) - 1) * weight.StandardUncertaintyKilograms * Math.Sqrt(3)))];
    }

    private static int[] Hanging(int step) => [.. Steps[step].Length switch
    {
        1 when Steps[step][0] == 10 => new[] { 4 },
        6 => [0, 1, 2, 3, 4, 5],
        int pieces => Enumerable.Range(0, pieces),
    }];

    /// <summary>Waits until a window is still, on the device's clock, and takes its mean.</summary>
    private static async Task<CalibrationReading> TakeAsync(LiveSubscription live, int series, LoadDirection direction, ReferenceForce reference, CancellationToken cancellation)
    {
        var window = new List<RawSample>();
        long? begun = null;
        Still? before = null;
        // Blocks made before the mass was hung may still wait in the queue.
        while (live.Blocks.TryRead(out _)) { }
        await foreach (LiveBlock block in live.Blocks.ReadAllAsync(cancellation).ConfigureAwait(false))
        {
            begun ??= block.Samples[0].DeviceMicroseconds;
            window.AddRange(block.Samples);
            double seconds = (window[^1].DeviceMicroseconds - window[0].DeviceMicroseconds) / 1e6;
            if (seconds < ReadingSeconds) continue;
            var still = Still.Of(window);
            window.Clear();
            // Two windows in a row that agree within their noise: neither swinging nor settling.
            if (before is { } earlier && still.AgreesWith(earlier))
            {
                return new CalibrationReading
                {
                    Series = series.ToString(System.Globalization.CultureInfo.InvariantCulture),
                    Direction = direction,
                    Reference = reference,
                    Counts = still.Mean,
                    NoiseCounts = still.StandardDeviation,
                    FluctuationCounts = still.Range,
                };
            }

            before = still;
            if ((block.Samples[^1].DeviceMicroseconds - begun.Value) / 1e6 > SettlingSecondsMax) break;
        }

        throw new CannotBeDoneException($"The virtual cell did not come to rest within {SettlingSecondsMax} s at {reference.Description}.");
    }

    private readonly record struct Still(double Mean, double StandardDeviation, double Range)
    {
        public static Still Of(List<RawSample> window)
        {
            double mean = window.Average(s => (double)s.Counts);
            double deviation = Math.Sqrt(window.Sum(s => (s.Counts - mean) * (s.Counts - mean)) / (window.Count - 1));
            return new Still(mean, deviation, window.Max(s => s.Counts) - window.Min(s => s.Counts));
        }

        public bool AgreesWith(Still other) => Math.Abs(Mean - other.Mean) < Math.Min(StandardDeviation, other.StandardDeviation) / 2;
    }
}
