using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Signal;
using RigDaq.Rig.Control;
using RigDaq.Text;

namespace RigDaq.App.Calibrations;

/// <summary>Reads the check weight on a live rig: a still zero, then a still force with the weight on. It takes both itself.</summary>
internal sealed class CheckWeightReader(RigController rig)
{
    /// <summary>How long the signal must be still, on the device's clock, in seconds.</summary>
    public const double StillSeconds = 2;

    /// <summary>How long a person may take for each step, in wall time.</summary>
    private static readonly TimeSpan StepMax = TimeSpan.FromMinutes(5);

    /// <summary>Reads.</summary>
    /// <param name="calibration">The calibration in force.</param>
    /// <param name="expectedNewtons">The weight's force: more than half of it tells that it hangs.</param>
    /// <param name="say">Hears what to do next.</param>
    /// <param name="cancellation">Gives up.</param>
    /// <returns>The force above zero, in newtons.</returns>
    /// <exception cref="CannotBeDoneException">A step took too long, or the rig ended.</exception>
    public async Task<double> ReadAsync(CalibrationRecord calibration, double expectedNewtons, Action<Sentence> say,
        CancellationToken cancellation)
    {
        double noise = calibration.NoiseCounts ?? 0;
        say(AppText.CheckWeightTakeOff);
        double zero = await StillAsync(noise, _ => true, AppText.CheckWeightStillZero, cancellation).ConfigureAwait(false);
        say(AppText.CheckWeightHang);
        double loaded = await StillAsync(noise, counts => calibration.Curve.Newtons(counts - zero) > expectedNewtons / 2,
            AppText.CheckWeightStill, cancellation).ConfigureAwait(false);
        return calibration.Curve.Newtons(loaded - zero);
    }

    private async Task<double> StillAsync(double noiseCounts, Func<double, bool> wanted, Sentence what, CancellationToken cancellation)
    {
        using var bounded = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        bounded.CancelAfter(StepMax);
        using LiveSubscription live = rig.SubscribeLive(LiveSubscription.BlocksMax);
        var window = new List<RawSample>();
        try
        {
            await foreach (LiveBlock block in live.Blocks.ReadAllAsync(bounded.Token).ConfigureAwait(false))
            {
                window.AddRange(block.Samples);
                if (window[^1].DeviceMicroseconds < window[0].DeviceMicroseconds) window.Clear();
                if (window.Count == 0 || Seconds(window[^1], window[0]) < StillSeconds) continue;
                Stillness still = StillWindow.Judge(window.ConvertAll(s => Seconds(s, window[0])).ToArray(),
                    window.ConvertAll(s => (double)s.Counts).ToArray(), noiseCounts);
                if (still.IsStill && wanted(still.Mean)) return still.Mean;
                window.Clear();
            }
        }
        catch (OperationCanceledException fault) when (!cancellation.IsCancellationRequested)
        {
            throw new CannotBeDoneException(AppText.CheckWeightWaited(StepMax.TotalMinutes, what), fault);
        }

        throw new CannotBeDoneException(AppText.CheckWeightRigEnded(what));
    }

    private static double Seconds(RawSample sample, RawSample first) => (sample.DeviceMicroseconds - first.DeviceMicroseconds) / 1e6;
}
