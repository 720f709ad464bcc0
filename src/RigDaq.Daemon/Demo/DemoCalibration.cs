using RigDaq.App.Calibrations;
using RigDaq.App.Input;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Text;
using RigDaq.Virtual.Machine;

namespace RigDaq.Daemon.Demo;

/// <summary>Calibrates the virtual rig's load cell by the guided path, with virtual weights of class M1 and hands that hang whatever the
/// guide asks for. The dwells are short, because nobody waits for a virtual mass to settle.</summary>
internal sealed class DemoCalibration(VirtualRig virtualRig, RigController rig, ulong seed, TimeProvider time)
{
    /// <summary>How long it may take in wall time.</summary>
    private static readonly TimeSpan WallTimeMax = TimeSpan.FromMinutes(10);

    // Which weights of the set hang at each step, by their places in it.
    private static readonly int[][] Steps = [[0], [0, 1], [0, 1, 2], [0, 1, 2, 3], [0, 1, 2, 3, 4, 5]];

    private static readonly LocalGravity Gravity = LocalGravity.At(52.2, 34);
    private static readonly AirDensity Air = AirDensity.AtHeight(34);

    /// <summary>Takes the readings, fits them, and gives the record to be put in force.</summary>
    /// <param name="deviceId">The virtual rig's id.</param>
    /// <param name="progress">Hears which series is next.</param>
    /// <param name="cancellation">Gives up.</param>
    public async Task<CalibrationRecord> RunAsync(string deviceId, Action<Sentence> progress, CancellationToken cancellation)
    {
        Weight[] set = Set();
        double[] trueMasses = TrueMasses(set);
        ReferenceForce[] references = [.. Steps.Select(step => ReferenceForces.Hanging([.. step.Select(i => set[i])], Gravity, Air))];
        var hanging = new Dictionary<ReferenceForce, double>(
            Steps.Zip(references, (step, reference) => KeyValuePair.Create(reference, step.Sum(i => trueMasses[i]))),
                ReferenceEqualityComparer.Instance);
        (GuideState begun, _) = CalibrationGuide.Begin(new GuidePlan
        {
            Steps = references,
            PreloadCycles = 1,
            StillSeconds = 0.5,
            DwellSeconds = 2,
            ZeroReturnSeconds = 2,
            WarmUpSeconds = 2,
        });

        HashSet<string> preloads = [.. begun.Plan.Tasks().Where(task => task.Kind == GuideTaskKind.Preload).Select(task => task.Series)];
        var done = new TaskCompletionSource<GuideState>(TaskCreationOptions.RunContinuationsAsynchronously);
        var runner = new CalibrationRunner(rig, begun);
        await using (runner.ConfigureAwait(false))
        {
            int? task = null;
            string series = "";
            runner.Changed += state =>
            {
                if (state.Phase is GuidePhase.Review or GuidePhase.Abandoned) done.TrySetResult(state);
                GuideView view = CalibrationGuide.Describe(state);
                if (view.Task is not { } wanted || task == state.TaskIndex) return;
                task = state.TaskIndex;
                if (wanted.Series != series) progress(TerminalText.DemoCalibrating(wanted.Series, preloads.Contains(wanted.Series)));
                series = wanted.Series;
                if (hanging.TryGetValue(wanted.Reference, out double kilograms)) virtualRig
                    .HangMass(kilograms, Gravity.MetresPerSecondSquared, airDensity: Air.KilogramsPerCubicMetre);
                else virtualRig.TakeMassOff();
            };
            runner.BrokeOff += fault => done.TrySetException(fault);
            runner.Start();
            try
            {
                await done.Task.WaitAsync(WallTimeMax, cancellation).ConfigureAwait(false);
            }
            catch (TimeoutException fault)
            {
                throw new CannotBeDoneException(TerminalText.DemoCalibrationLate(WallTimeMax.TotalMinutes,
                    CalibrationGuide.Describe(runner.State).Instruction), fault);
            }

            virtualRig.TakeMassOff();
            CalibrationFit fit = CalibrationGuide.Fit(runner.State, inputs: new UncertaintyInputs
            {
                FullScaleNewtons = virtualRig.Options.CellCapacityNewtons,
                NonLinearityPercent = 0.02,
                TemperaturePercentPerKelvin = 0.002,
                TemperatureSpreadKelvin = 5,
            });
            return CalibrationBuilder.Accept(fit, Guid.CreateVersion7(time.GetUtcNow()).ToString(), deviceId, time.GetUtcNow(),
                new CalibrationCircumstances
                {
                    Person = TerminalText.DemoPerson,
                    Place = TerminalText.DemoPlace,
                    Cell = TerminalText.DemoCell,
                    Gravity = Gravity,
                    Air = Air,
                    Weights = set,
                });
        }
    }

    private static Weight[] Set() =>
    [
        .. Enumerable.Range(1, 4).Select(i => Weight.OfClass(TerminalText.DemoWeight(20, i), 20, WeightClass.M1)),
        Weight.OfClass(TerminalText.DemoWeight(10), 10, WeightClass.M1),
        Weight.OfClass(TerminalText.DemoWeight(5), 5, WeightClass.M1),
    ];

    /// <summary>Each weight is off by something within its class: nobody knows it, and the uncertainty has to cover it.</summary>
    private double[] TrueMasses(Weight[] set)
    {
        var random = new Random(unchecked((int)seed));
        return
            [.. set.Select(weight => weight.MassKilograms
            + (((2 * random.NextDouble()) - 1) * weight.StandardUncertaintyKilograms * Math.Sqrt(3)))];
    }
}
