using System.Globalization;
using RigDaq.App.Compliance;
using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Interlocks;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>What is asked of a person before the bar goes in, and where it was left under load.</summary>
/// <param name="rig">The rig.</param>
/// <param name="typed">What the person types.</param>
/// <param name="say">Says something to the person.</param>
internal sealed class BarDialogue(RigController rig, TypedLines typed, Action<Sentence> say)
{
    // Homing and moving to where the bar fits: a long screw takes so long.
    private static readonly TimeSpan HandMax = TimeSpan.FromMinutes(3);
    private static readonly TimeSpan BackMax = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan ClearedMax = TimeSpan.FromSeconds(5);
    private const double SeparationOffMillimetres = 0.1;
    private const int TriesMax = 10;

    /// <summary>Finds home with empty grips, and brings them as far apart as the bar needs.</summary>
    /// <returns>False where the person gave up.</returns>
    public async Task<bool> HomeAsync(CancellationToken cancellation)
    {
        for (int tries = 0; tries < TriesMax; tries++)
        {
            try
            {
                if (!await ReadyAsync(cancellation).ConfigureAwait(false)) return false;
                if (!await typed.SaysAsync("home", TerminalText.MeasureAskHome, say, cancellation).ConfigureAwait(false)) return false;
                rig.AcknowledgeCautions(Cautions.HandMotionScope).Require();
                (await rig.HomeAsync().ConfigureAwait(false)).Require();
                RigSnapshot home = await StandsAsync(s => s.Bits.HasFlag(StateBits.Homed), TerminalText.MeasureHome, cancellation)
                    .ConfigureAwait(false);
                return await ComeApartAsync(home.GripSeparationMillimetres ?? 0, cancellation).ConfigureAwait(false);
            }
            catch (CannotBeDoneException fault)
            {
                say(fault.Sentence);
            }
        }

        return false;
    }

    /// <summary>Waits for the rig, and lets the person clear what is latched; nobody else does.</summary>
    /// <returns>False where the person leaves it.</returns>
    private async Task<bool> ReadyAsync(CancellationToken cancellation)
    {
        // A link that was lost comes back by itself, or not.
        RigSnapshot now = await rig.WhenAsync(s => s.Link == LinkStage.Up && s.Counts is not null, BackMax, TerminalText.RigHello,
            cancellation).ConfigureAwait(false);
        if (now.FaultWords.Count == 0) return true;
        if (!await typed.SaysAsync("clear", TerminalText.MeasureAskClear(now.FaultWords, now.ForceNewtons), say, cancellation)
            .ConfigureAwait(false)) return false;
        (await rig.ClearFaultsAsync().ConfigureAwait(false)).Require();
        await rig.WhenAsync(s => s.Faults == DeviceFaults.None, ClearedMax, TerminalText.MeasureCleared, cancellation)
            .ConfigureAwait(false);
        return true;
    }

    private async Task<bool> ComeApartAsync(double nowMillimetres, CancellationToken cancellation)
    {
        while (true)
        {
            string? asked = await typed.AnswerAsync(TerminalText.MeasureAskSeparation(nowMillimetres), say, cancellation)
                .ConfigureAwait(false);
            if (asked is null) return false;
            if (asked.Length == 0) return true;
            if (!double.TryParse(asked, NumberStyles.Float, CultureInfo.InvariantCulture, out double millimetres))
            {
                say(TerminalText.MeasureNoNumber(asked));
                continue;
            }

            CommandResult moves = await rig.MoveToGripSeparationAsync(millimetres).ConfigureAwait(false);
            if (moves.Done)
            {
                await StandsAsync(
                    s => s.GripSeparationMillimetres is { } now && Math.Abs(now - millimetres) < SeparationOffMillimetres,
                        TerminalText.MeasureSeparation, cancellation).ConfigureAwait(false);
                return true;
            }

            say(moves.Message);
        }
    }

    /// <summary>Waits until the crosshead stands where it should; any typed line stops it.</summary>
    private async Task<RigSnapshot> StandsAsync(Func<RigSnapshot, bool> there, Sentence what, CancellationToken cancellation)
    {
        RigSnapshot end = RigSnapshot.Nothing;
        bool stopped = !await typed.WhileWatchedAsync(async watched =>
        {
            try
            {
                end = await rig.WhenAsync(
                    s => s.Faults != DeviceFaults.None || s.Link != LinkStage.Up || (s.Motion == MotionState.Still && there(s)), HandMax,
                        what, watched).ConfigureAwait(false);
            }
            finally
            {
                if (end.Link != LinkStage.Up) await rig.StopAsync().ConfigureAwait(false);
            }
        }, cancellation).ConfigureAwait(false);
        if (stopped) throw new CannotBeDoneException(TerminalText.MeasureHandStopped);
        if (end.FaultWords.Count > 0) throw new CannotBeDoneException(AppText.BarPullStopped(AppText.BarDeviceStopped(end.FaultWords)));
        return end.Link == LinkStage.Up ? end : throw new CannotBeDoneException(end.LinkMessage);
    }

    /// <summary>The bar stands under load, and a person says what becomes of it: nothing moves and no fault is cleared without.</summary>
    /// <returns>Whether it was let go; else the person was told how to do that by hand.</returns>
    public async Task<bool> LetGoAsync(BarPull pull, CancellationToken cancellation)
    {
        for (int tries = 0; tries < TriesMax; tries++)
        {
            try
            {
                if (!await ReadyAsync(cancellation).ConfigureAwait(false) || !pull.CanLetGo) break;
                if (!await typed.SaysAsync("unload", TerminalText.MeasureAskUnload(rig.Snapshot.ForceNewtons), say, cancellation)
                    .ConfigureAwait(false)) break;
                rig.AcknowledgeCautions(Cautions.HandMotionScope).Require();
                if (await typed.WhileWatchedAsync(pull.LetGoAsync, cancellation).ConfigureAwait(false))
                {
                    say(TerminalText.MeasureUnloaded(rig.Snapshot.ForceNewtons));
                    return true;
                }

                say(TerminalText.MeasureStopped);
            }
            catch (CannotBeDoneException fault)
            {
                say(fault.Sentence);
            }
            catch (OperationCanceledException)
            {
                say(TerminalText.MeasureByHand);
                throw;
            }
        }

        say(TerminalText.MeasureByHand);
        return false;
    }
}
