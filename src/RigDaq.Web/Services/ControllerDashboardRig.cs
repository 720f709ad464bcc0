using System.Threading.Channels;
using RigDaq.Core.Calibration;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Web.Services;

/// <summary>A live rig as the dashboard sees it.</summary>
public sealed class ControllerDashboardRig(RigController controller) : IDashboardRig
{
    /// <summary>A page that hangs for longer than about three seconds of blocks misses some.</summary>
    private const int BlocksMax = 128;

    /// <inheritdoc/>
    public RigSnapshot Snapshot => controller.Snapshot;

    /// <inheritdoc/>
    public IDashboardLive SubscribeLive() => new Live(controller.SubscribeLive(BlocksMax));

    /// <inheritdoc/>
    public Task<CommandResult> StopAsync() => controller.StopAsync();

    /// <inheritdoc/>
    public CommandResult AcknowledgeCautions(string scope) => controller.AcknowledgeCautions(scope);

    /// <inheritdoc/>
    public void AcceptHandMotionBeyondCalibration() => controller.AcceptHandMotionBeyondCalibration();

    /// <inheritdoc/>
    public Task<CommandResult> SayEmergencyStopTestedAsync() => controller.SayEmergencyStopTestedAsync();

    /// <inheritdoc/>
    public Task<CommandResult> StartSequenceAsync(SequencePlan plan) => controller.StartSequenceAsync(plan);

    /// <inheritdoc/>
    public Task<CommandResult> ResumeAsync() => controller.ResumeAsync();

    /// <inheritdoc/>
    public Task<CommandResult> SkipAsync() => controller.SkipAsync();

    /// <inheritdoc/>
    public Task<CommandResult> RetryAsync() => controller.RetryAsync();

    /// <inheritdoc/>
    public Task<CommandResult> FinishAsync() => controller.FinishAsync();

    /// <inheritdoc/>
    public Task<CommandResult> ConfirmPullAsync() => controller.ConfirmPullAsync();

    /// <inheritdoc/>
    public Task<CommandResult> ConfirmOpenGripAsync() => controller.ConfirmOpenGripAsync();

    /// <inheritdoc/>
    public Task<CommandResult> TakeZeroAsync() => controller.TakeZeroAsync();

    /// <inheritdoc/>
    public Task<CommandResult> JogAsync(double speedMillimetresPerSecond) => controller.JogAsync(speedMillimetresPerSecond);

    /// <inheritdoc/>
    public Task<CommandResult> HomeAsync() => controller.HomeAsync();

    /// <inheritdoc/>
    public Task<CommandResult> MoveToGripSeparationAsync(double millimetres) => controller.MoveToGripSeparationAsync(millimetres);

    /// <inheritdoc/>
    public Task<CommandResult> SetCalibrationAsync(CalibrationRecord calibration) => controller.SetCalibration(calibration, calibration.NoiseCounts);

    /// <inheritdoc/>
    public Task<CommandResult> ClearFaultsAsync() => controller.ClearFaultsAsync();

    private sealed class Live(LiveSubscription subscription) : IDashboardLive
    {
        public ChannelReader<LiveBlock> Blocks => subscription.Blocks;

        public long BlocksDropped => subscription.BlocksDropped;

        public void Dispose() => subscription.Dispose();
    }
}
