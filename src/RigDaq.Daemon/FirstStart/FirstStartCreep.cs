using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.FirstStart;

/// <summary>Why a creep ended.</summary>
internal enum CreepEnd
{
    /// <summary>It went all of its way.</summary>
    WentItsWay,

    /// <summary>A fault stopped it.</summary>
    Fault,

    /// <summary>A line was typed, or the terminal is gone.</summary>
    Typed,

    /// <summary>It did not get on: refused, or the position does not change.</summary>
    DoesNotMove,

    /// <summary>An input stood against it and it went on: it was stopped from here.</summary>
    WentOn,
}

/// <summary>Moves the crosshead a little at creep speed, held by this program, stopped by any typed line; nothing is in the
/// grips.</summary>
internal sealed class FirstStartCreep(RigController rig, FirstStartTalk talk, TimeProvider time)
{
    /// <summary>In mm/s: a hand is quicker.</summary>
    public const double Speed = 0.2;

    /// <summary>How far at most while a switch is pressed by hand, in mm: 25 s.</summary>
    public const double FarMillimetres = 5;

    /// <summary>How far the crosshead may go on after the device's own state shows what should have stopped it, in mm: half a
    /// second.</summary>
    private const double GoesOnMillimetres = 0.1;

    /// <summary>Renewed well before a jog ends by itself.</summary>
    private static readonly TimeSpan Renewal = RigController.JogRenewal / 3;

    private static readonly TimeSpan StandMax = TimeSpan.FromSeconds(10);

    /// <summary>Creeps one way.</summary>
    /// <param name="way">1 apart, −1 together.</param>
    /// <param name="millimetres">How far.</param>
    /// <param name="against">Whether what should stop it is there.</param>
    /// <param name="cancellation">Ends it.</param>
    /// <returns>Why it ended, and what the rig shows when it stands.</returns>
    public async Task<(CreepEnd End, RigSnapshot Stood, string Words)> GoAsync(int way, double millimetres, Func<RigSnapshot, bool> against,
        CancellationToken cancellation)
    {
        (CreepEnd end, string words) = (CreepEnd.Typed, "");
        try
        {
            bool watched = await talk.WhileWatchedAsync(async stop => (end, words) = await HoldAsync(way, millimetres, against, stop)
                .ConfigureAwait(false), cancellation).ConfigureAwait(false);
            if (!watched) end = CreepEnd.Typed;
        }
        finally
        {
            // Faster than the end of its renewal, and also where this program is ended.
            await rig.StopAsync().ConfigureAwait(false);
        }

        RigSnapshot stood = await rig.WhenAsync(s => s.Motion == MotionState.Still || s.Link != LinkStage.Up, StandMax,
            TerminalText.FirstStartStands, cancellation).ConfigureAwait(false);
        if (stood.Link != LinkStage.Up) throw new CannotBeDoneException(stood.LinkMessage);
        return (stood.Faults != DeviceFaults.None && end != CreepEnd.WentOn ? CreepEnd.Fault : end, stood, words);
    }

    private async Task<(CreepEnd End, string Words)> HoldAsync(int way, double millimetres, Func<RigSnapshot, bool> against,
        CancellationToken stop)
    {
        double from = rig.Snapshot.PositionMillimetres ?? throw new CannotBeDoneException(AppText.BarNoPosition);
        double? since = null;
        string words = "";
        int rounds = (int)Math.Ceiling(3 * millimetres / Speed / Renewal.TotalSeconds);
        for (int i = 0; i < rounds; i++)
        {
            RigSnapshot now = rig.Snapshot;
            if (now.Link != LinkStage.Up) return (CreepEnd.DoesNotMove, now.LinkMessage);
            if (now.Faults != DeviceFaults.None) return (CreepEnd.Fault, "");
            double at = now.PositionMillimetres ?? from;
            if (way * (at - from) >= millimetres) return (CreepEnd.WentItsWay, "");
            since = against(now) ? since ?? at : null;
            if (since is { } then && way * (at - then) > GoesOnMillimetres) return (CreepEnd.WentOn, "");
            CommandResult moves = await rig.JogAsync(way * Speed).ConfigureAwait(false);
            // Refused for good where an input stands against it: the fault is shown in a moment.
            words = moves.Done || moves.IsPassing ? words : moves.Message;
            await Task.Delay(Renewal, time, stop).ConfigureAwait(false);
        }

        return (CreepEnd.DoesNotMove, words);
    }
}
