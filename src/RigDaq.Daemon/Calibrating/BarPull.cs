using System.Threading.Channels;
using RigDaq.Core.Signal;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Calibrating;

/// <summary>
/// Pulls on a stiff bar and lets it go again: held motion at a creep, renewed block by block, so that it stops where this program
/// hangs. The device's own force limit stands a quarter above the force that is pulled to.
/// </summary>
/// <param name="rig">A calibrated rig with a zero, the bar in both grips, the cautions acknowledged.</param>
/// <param name="plan">How it is pulled.</param>
internal sealed class BarPull(RigController rig, BarPullPlan plan)
{
    // The motion is renewed at most this often; it stops by itself without.
    private static readonly TimeSpan Renewal = RigController.JogRenewal / 4;

    // A rig that tells nothing for so long, in wall time, is not being watched.
    private static readonly TimeSpan BlockMax = TimeSpan.FromSeconds(2);

    // The bar is let go down to this share of the force.
    private const double LetGoShare = 0.03;

    // After the stop the crosshead is given this much time to stand.
    private static readonly TimeSpan StandMax = TimeSpan.FromSeconds(5);

    /// <summary>Pulls once, and unloads.</summary>
    /// <param name="cancellation">A person's stop, too.</param>
    /// <returns>The loading's trace, forces above the zero.</returns>
    /// <exception cref="CannotBeDoneException">It was refused, or did not go as it should; the crosshead was stopped.</exception>
    public async Task<AnalysedTrace> OnceAsync(CancellationToken cancellation)
    {
        using LiveSubscription live = rig.SubscribeLive(LiveSubscription.BlocksMax);
        double start = rig.Snapshot.PositionMillimetres ?? throw new CannotBeDoneException(TerminalText.BarNoPosition);
        var times = new List<double>();
        var forces = new List<double>();
        var positions = new List<double>();
        try
        {
            double highest = 0;
            long? first = null;
            string? wrong = await MoveAsync(live.Blocks, plan.SpeedMillimetresPerSecond, block =>
            {
                for (int i = 0; i < block.Samples.Count; i++)
                {
                    first ??= block.Samples[0].DeviceMicroseconds;
                    times.Add((block.Samples[i].DeviceMicroseconds - first.Value) / 1e6);
                    forces.Add(block.Newtons![i]);
                    positions.Add(block.PositionMillimetres![i]);
                }

                double force = Median(block.Newtons!);
                highest = Math.Max(highest, force);
                if (force >= plan.ForceNewtons) return Verdict.Done;
                if (block.LostBefore > 0) return Verdict.Wrong(TerminalText.BarSamplesLost(block.LostBefore));
                if (force < highest / 2 && highest > plan.ForceNewtons / 10) return Verdict.Wrong(TerminalText.BarSlid(highest));
                double went = block.PositionMillimetres![^1] - start;
                return went > plan.TravelMillimetres
                    ? Verdict.Wrong(TerminalText.BarWentTooFar(went, force))
                    : Verdict.GoOn;
            }, cancellation).ConfigureAwait(false);
            if (wrong is not null) throw new CannotBeDoneException(TerminalText.BarPullStopped(wrong));
        }
        finally
        {
            await StopAsync().ConfigureAwait(false);
        }

        await LetGoAsync(live.Blocks, start, cancellation).ConfigureAwait(false);
        double noise = NoiseEstimate.FromSecondDifferences(forces.ToArray());
        return TraceAnalysis.Analyse(
            new ForceTrace { TimesSeconds = [.. times], ForcesNewtons = [.. forces], PositionsMillimetres = [.. positions] },
            new DetectionSettings(), new KnownZero(0, noise));
    }

    private async Task LetGoAsync(ChannelReader<LiveBlock> blocks, double start, CancellationToken cancellation)
    {
        try
        {
            // A bar left under load springs when a grip is opened. Back to where it began at most: it must not be pushed.
            string? wrong = await MoveAsync(blocks, -plan.SpeedMillimetresPerSecond, block =>
                Median(block.Newtons!) <= LetGoShare * plan.ForceNewtons || block.PositionMillimetres![^1] <= start ? Verdict.Done : Verdict.GoOn,
                cancellation).ConfigureAwait(false);
            if (wrong is not null) throw new CannotBeDoneException(TerminalText.BarUnloadingStopped(wrong));
        }
        finally
        {
            await StopAsync().ConfigureAwait(false);
        }
    }

    private async Task<string?> MoveAsync(ChannelReader<LiveBlock> blocks, double speed, Func<LiveBlock, Verdict> judge, CancellationToken cancellation)
    {
        // What waits from before is old.
        while (blocks.TryRead(out _)) { }
        await RenewAsync(speed).ConfigureAwait(false);
        long renewed = TimeProvider.System.GetTimestamp(), began = renewed;
        while (true)
        {
            if (TimeProvider.System.GetElapsedTime(began) > plan.TimeMax) return TerminalText.BarTookTooLong(plan.TimeMax.TotalSeconds);
            using var bounded = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
            bounded.CancelAfter(BlockMax);
            LiveBlock block;
            try
            {
                block = await blocks.ReadAsync(bounded.Token).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
            {
                return TerminalText.BarNoSample(BlockMax.TotalSeconds);
            }
            catch (ChannelClosedException)
            {
                return TerminalText.BarRigEnded;
            }

            if (block.Newtons is null || block.PositionMillimetres is null) return TerminalText.BarNotKnown;
            Verdict verdict = judge(block);
            if (verdict.Ends) return verdict.Why;
            if (TimeProvider.System.GetElapsedTime(renewed) < Renewal) continue;
            if (rig.Snapshot.FaultWords is { Count: > 0 } faults) return TerminalText.BarDeviceStopped(faults);
            renewed = TimeProvider.System.GetTimestamp();
            await RenewAsync(speed).ConfigureAwait(false);
        }
    }

    private async Task RenewAsync(double speed)
    {
        CommandResult moved = await rig.JogAsync(speed).ConfigureAwait(false);
        if (!moved.Done) throw new CannotBeDoneException(moved.Message);
    }

    private async Task StopAsync()
    {
        await rig.JogAsync(0).ConfigureAwait(false);
        await Hosting.RigWaiting.WhenAsync(
            rig, s => s.Link != LinkStage.Up || s.Motion == Protocol.Messages.MotionState.Still, StandMax, TerminalText.BarStand, CancellationToken.None).ConfigureAwait(false);
    }

    private static double Median(double[] values)
    {
        double[] sorted = [.. values.Order()];
        return sorted[sorted.Length / 2];
    }

    private readonly record struct Verdict(bool Ends, string? Why)
    {
        public static Verdict GoOn => new(false, null);

        public static Verdict Done => new(true, null);

        public static Verdict Wrong(string why) => new(true, why);
    }
}

/// <summary>How a bar is pulled.</summary>
internal sealed record BarPullPlan
{
    /// <summary>The greatest speed, in mm/s: a stiff bar takes up hundreds of newtons in a tenth of a millimetre.</summary>
    public const double SpeedMax = 0.2;

    /// <summary>The device's own limit stands so many times above the force.</summary>
    public const double LimitTimes = 1.25;

    /// <summary>The force that is pulled to, in newtons, above 0.</summary>
    public double ForceNewtons { get; init; } = 200;

    /// <summary>The crosshead's speed in mm/s.</summary>
    public double SpeedMillimetresPerSecond { get; init; } = 0.05;

    /// <summary>How far the crosshead may go, in mm.</summary>
    public double TravelMillimetres { get; init; } = 2;

    /// <summary>How often it is pulled; the first pull only beds the grips in, where there are more.</summary>
    public int Pulls { get; init; } = 3;

    /// <summary>How long one way may last.</summary>
    public TimeSpan TimeMax { get; init; } = TimeSpan.FromMinutes(2);
}
