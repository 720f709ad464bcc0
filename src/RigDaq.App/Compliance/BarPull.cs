using System.Threading.Channels;
using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Core.Compliance;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Text;

namespace RigDaq.App.Compliance;

/// <summary>
/// Pulls on a stiff bar and lets it go again. The crosshead is never told to go on until it is told to stop: it is sent to a position that
/// is safe to end at (<see cref="BarLeash"/>), and further only when the force there was seen. Where this program hangs or the line is slow
/// it stands and waits. The device's own force limit stands a quarter above the force that is pulled to.
/// </summary>
/// <param name="rig">A calibrated rig with a zero, homed where it can home, the bar in both grips, the cautions acknowledged.</param>
/// <param name="plan">How it is pulled.</param>
internal sealed class BarPull(RigController rig, BarPullPlan plan)
{
    // A rig that tells nothing for so long, in wall time, is gone; until then it stands at the end of its leash.
    private static readonly TimeSpan BlockMax = TimeSpan.FromSeconds(5);

    // The bar is let go down to this share of the force.
    private const double LetGoShare = 0.03;

    /// <summary>A jog that comes near takes so long for the rest: several blocks.</summary>
    private const double NearSeconds = 0.25;

    // A little above the force: the last part of the way is not crept along.
    private const double AimTimes = 1.03;

    // After the stop the crosshead is given this much time to stand.
    private static readonly TimeSpan StandMax = TimeSpan.FromSeconds(5);

    private Loaded? _loaded;

    /// <summary>Whether the bar may still be under load.</summary>
    public bool IsLoaded => _loaded is not null;

    /// <summary>Whether it can be let go from here: the device has not started anew since.</summary>
    public bool CanLetGo => _loaded is { } loaded && rig.Snapshot.Hello?.BootNumber == loaded.BootNumber;

    /// <summary>Pulls once, and unloads.</summary>
    /// <param name="cancellation">A person's stop, too.</param>
    /// <returns>The loading's samples, raw.</returns>
    /// <exception cref="CannotBeDoneException">It was refused, or did not go as it should; the crosshead was stopped.</exception>
    public async Task<BarPullSamples> OnceAsync(CancellationToken cancellation)
    {
        RigSnapshot now = rig.Snapshot;
        if (now.PositionMillimetres is not { } start || now.Hello is not { StepsPerMetre: > 0 } hello
            || now.Calibration is not { } calibration)
            throw new CannotBeDoneException(AppText.BarNoPosition);
        double noise = Math.Abs(calibration.Curve.NewtonsPerCount(0)) * (calibration.NoiseCounts ?? 0);
        var leash = new BarLeash(AimTimes * plan.ForceNewtons, plan.LimitNewtons, noise, 1000.0 / hello.StepsPerMetre);
        _loaded = new Loaded(leash, start, hello.BootNumber);
        var samples = new List<RawSample>();
        double highest = 0;
        Sentence? wrong = await MoveAsync(block =>
        {
            samples.AddRange(block.Samples);
            (double position, double force) = Middle(block);
            leash.See(position, force);
            highest = Math.Max(highest, force);
            if (force >= plan.ForceNewtons) return Verdict.Done;
            if (force < highest / 2 && highest > plan.ForceNewtons / 10) return Verdict.Wrong(AppText.BarSlid(highest));
            double end = start + plan.TravelMillimetres;
            return position >= end - (1.0 / hello.StepsPerMetre) ? Verdict.Wrong(AppText.BarWentTooFar(position - start, force))
                : Verdict.GoTo(Math.Min(leash.Apart(position, force), end));
        }, cancellation).ConfigureAwait(false);
        if (wrong is not null) throw new CannotBeDoneException(AppText.BarPullStopped(wrong));
        await LetGoAsync(cancellation).ConfigureAwait(false);
        return BarPullSamples.Of(samples);
    }

    /// <summary>Lets the bar go: back to where the pull began at most, for it must not be pushed.</summary>
    /// <param name="cancellation">A person's stop, too.</param>
    /// <exception cref="CannotBeDoneException">It was refused, or did not go as it should; the crosshead was stopped.</exception>
    public async Task LetGoAsync(CancellationToken cancellation)
    {
        if (_loaded is not { } loaded) return;
        Sentence? wrong = await MoveAsync(block =>
        {
            (double position, double force) = Middle(block);
            return force <= LetGoShare * plan.ForceNewtons || position <= loaded.StartMillimetres ? Verdict.Done
                : Verdict.GoTo(Math.Max(loaded.StartMillimetres, loaded.Leash.Together(position, force)));
        }, cancellation).ConfigureAwait(false);
        if (wrong is not null) throw new CannotBeDoneException(AppText.BarUnloadingStopped(wrong));
        _loaded = null;
    }

    /// <summary>Moves as the judge says, block by block; whatever happens the crosshead stands when it returns, as far as it can be
    /// told.</summary>
    private async Task<Sentence?> MoveAsync(Func<LiveBlock, Verdict> judge, CancellationToken cancellation)
    {
        using LiveSubscription live = rig.SubscribeLive(LiveSubscription.BlocksMax);
        try
        {
            return await FollowAsync(live.Blocks, judge, cancellation).ConfigureAwait(false);
        }
        finally
        {
            await StopAsync().ConfigureAwait(false);
        }
    }

    private async Task<Sentence?> FollowAsync(ChannelReader<LiveBlock> blocks, Func<LiveBlock, Verdict> judge,
        CancellationToken cancellation)
    {
        long began = TimeProvider.System.GetTimestamp();
        double? target = null;
        while (true)
        {
            if (TimeProvider.System.GetElapsedTime(began) > plan.TimeMax) return AppText.BarTookTooLong(plan.TimeMax.TotalSeconds);
            using var bounded = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
            bounded.CancelAfter(BlockMax);
            LiveBlock block;
            try
            {
                block = await blocks.ReadAsync(bounded.Token).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
            {
                return AppText.BarNoSample(BlockMax.TotalSeconds);
            }
            catch (ChannelClosedException)
            {
                return AppText.BarRigEnded;
            }

            // What came while a command was on its way is looked at in turn; only the newest sends the crosshead on.
            Verdict verdict;
            double here;
            do
            {
                if (block.Newtons is null || block.PositionMillimetres is null) return AppText.BarNotKnown;
                if (block.BootNumber != _loaded!.BootNumber) return AppText.BarDeviceStartedAnew;
                here = Middle(block).Position;
                verdict = judge(block);
            }
            while (verdict.Target is not null && blocks.TryRead(out block!));

            if (verdict.Target is not { } wanted) return verdict.Why;
            if (rig.Snapshot.FaultWords is { Count: > 0 } faults) return AppText.BarDeviceStopped(faults);
            bool homed = IsHomed(rig.Snapshot);
            if (homed && target is { } there && rig.Snapshot.Motion != MotionState.Still && wanted.Equals(there)) continue;
            cancellation.ThrowIfCancellationRequested();
            CommandResult moved = homed ? await rig.MoveToAsync(wanted, plan.SpeedMillimetresPerSecond).ConfigureAwait(false)
                : await rig.JogAsync(Towards(wanted - here)).ConfigureAwait(false);
            if (moved.Done) target = wanted;
            else if (!moved.IsPassing) return rig.Snapshot.FaultWords is { Count: > 0 } latched ? AppText.BarDeviceStopped(latched)
                : moved.Message;
        }
    }

    private async Task StopAsync()
    {
        await rig.StopAsync().ConfigureAwait(false);
        await rig.WhenAsync(s => s.Link != LinkStage.Up || s.Motion == MotionState.Still, StandMax, AppText.BarStand,
            CancellationToken.None).ConfigureAwait(false);
    }

    /// <summary>What cut the motor's power in motion cost the device its home, and it takes no position any more; the count goes on all the
    /// same, good to a few steps. So the bar is let go by a held jog, slower the nearer it comes.</summary>
    private double Towards(double millimetres) =>
        Math.Clamp(millimetres / NearSeconds, -plan.SpeedMillimetresPerSecond, plan.SpeedMillimetresPerSecond);

    private static bool IsHomed(RigSnapshot rig) =>
        rig.Hello is not { } hello || !hello.Capabilities.HasFlag(Capabilities.Homing) || rig.Bits.HasFlag(StateBits.Homed);

    private static (double Position, double Force) Middle(LiveBlock block) => (Median(block.PositionMillimetres!), Median(block.Newtons!));

    private static double Median(double[] values)
    {
        double[] sorted = [.. values.Order()];
        return sorted[sorted.Length / 2];
    }

    /// <summary>A pull that is not let go yet.</summary>
    private sealed record Loaded(BarLeash Leash, double StartMillimetres, uint BootNumber);

    /// <summary>Where to go; null for the end, and then why, where it is not the end that was wanted.</summary>
    private readonly record struct Verdict(double? Target, Sentence? Why)
    {
        public static Verdict Done => new(null, null);

        public static Verdict GoTo(double millimetres) => new(millimetres, null);

        public static Verdict Wrong(Sentence why) => new(null, why);
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
    public TimeSpan TimeMax { get; init; } = TimeSpan.FromMinutes(5);

    /// <summary>Where the device stops by itself, in newtons.</summary>
    public double LimitNewtons => LimitTimes * ForceNewtons;

    /// <summary>What holds for hand motion while the bar is in the grips.</summary>
    public PullSettings HandMotion => new() { ForceLimitNewtons = LimitNewtons, CompressionLimitNewtons = Math.Min(50, LimitNewtons) };
}
