using RigDaq.Core.Calibration;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Rig.Control;

/// <summary>What a page or a service sees of a live rig and asks of it: a controller, or what a test has in its place. See
/// <see cref="RigController"/> for each.</summary>
public interface ILiveRig
{
    /// <summary>What can be seen now.</summary>
    RigSnapshot Snapshot { get; }

    /// <summary>A queue of live blocks for one consumer; a slow one loses the oldest.</summary>
    LiveSubscription SubscribeLive(int blocksMax);

    /// <summary>Stops the crosshead, always.</summary>
    Task<CommandResult> StopAsync();

    /// <summary>A person has read the cautions for a sequence or for hand motion.</summary>
    CommandResult AcknowledgeCautions(string scope);

    /// <summary>A person accepts hand motion without a calibration that covers its limit.</summary>
    void AcceptHandMotionBeyondCalibration();

    /// <summary>The emergency stop was pressed, the motor had no power, it is released again.</summary>
    Task<CommandResult> SayEmergencyStopTestedAsync();

    /// <summary>Starts a sequence.</summary>
    Task<CommandResult> StartSequenceAsync(SequencePlan plan);

    /// <summary>Lets a held sequence go on.</summary>
    Task<CommandResult> ResumeAsync();

    /// <summary>Leaves the current specimen out.</summary>
    Task<CommandResult> SkipAsync();

    /// <summary>Pulls the current specimen again.</summary>
    Task<CommandResult> RetryAsync();

    /// <summary>Ends the sequence.</summary>
    Task<CommandResult> FinishAsync();

    /// <summary>The specimen is in and hands are out.</summary>
    Task<CommandResult> ConfirmPullAsync();

    /// <summary>The far grip is open, or nothing is in the grips, and hands are out: the zero may be taken.</summary>
    Task<CommandResult> ConfirmOpenGripAsync();

    /// <summary>Takes the zero.</summary>
    Task<CommandResult> TakeZeroAsync();

    /// <summary>Moves while it is renewed; 0 stops.</summary>
    Task<CommandResult> JogAsync(double speedMillimetresPerSecond);

    /// <summary>Finds the home position.</summary>
    Task<CommandResult> HomeAsync();

    /// <summary>Moves to a distance between the grips.</summary>
    Task<CommandResult> MoveToGripSeparationAsync(double millimetres);

    /// <summary>Puts a calibration in force.</summary>
    Task<CommandResult> SetCalibration(CalibrationRecord? calibration, double? noiseCounts = null);

    /// <summary>Clears the faults whose cause is gone.</summary>
    Task<CommandResult> ClearFaultsAsync();
}
