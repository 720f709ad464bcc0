using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.Core.Calibration;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Daemon.Commands;

/// <summary>The rig that a command is at: connected for it alone and only so long, or that of the daemon that it runs in.</summary>
internal sealed class CommandRig : IAsyncDisposable
{
    private readonly RigTurn? _turn;

    private CommandRig(RigController rig, RigTurn? turn) => (Controller, _turn) = (rig, turn);

    /// <summary>The live rig.</summary>
    public RigController Controller { get; }

    /// <summary>Begins to connect to a rig; in the daemon it is the daemon's, which is connected already.</summary>
    /// <param name="link">The line to the device that the configuration names; not opened in the daemon.</param>
    /// <param name="options">How the device is driven where it is the command's own.</param>
    /// <param name="time">Its clock.</param>
    /// <exception cref="CannotBeDoneException">A sequence is under way in the daemon, or another command is at its rig.</exception>
    public static CommandRig At(IRigLinkOpener link, RigControllerOptions options, TimeProvider time)
    {
        if (CommandPlace.OfDaemon is { Rig: { } daemons } place)
        {
            if (daemons.Snapshot.Sequence is { Stage: not SequenceStage.Finished })
                throw new CannotBeDoneException(TerminalText.RigSequenceUnderWay);
            return place.RigTurn.TryTake() ? new CommandRig(daemons, place.RigTurn)
                : throw new CannotBeDoneException(TerminalText.RigTaken);
        }

        RigController own = RigFactory.Create(new RigSetup { Link = link, Options = options, Time = time });
        own.Start();
        return new CommandRig(own, null);
    }

    /// <summary>Has a calibration and what the check weight says of it obeyed by a rig that goes on after the command.</summary>
    /// <exception cref="CannotBeDoneException">The rig refused it; it is kept all the same.</exception>
    public async Task PutInForceAsync(CalibrationRecord calibration)
    {
        if (_turn is null) return;
        CommandResult set = await Controller.SetCalibration(calibration, calibration.NoiseCounts).ConfigureAwait(false);
        if (!set.Done) throw new CannotBeDoneException(TerminalText.RigKeptNotInForce(set.Message));
    }

    /// <summary>Ends what is the command's own; the daemon's rig has its limits for hand motion again.</summary>
    public async ValueTask DisposeAsync()
    {
        if (_turn is null)
        {
            await Controller.DisposeAsync().ConfigureAwait(false);
            return;
        }

        var usual = new RigControllerOptions();
        try
        {
            await Controller.SetHandMotionAsync(usual.HandMotion, usual.HandSpeedMaxMillimetresPerSecond).ConfigureAwait(false);
        }
        finally
        {
            _turn.Leave();
        }
    }
}
