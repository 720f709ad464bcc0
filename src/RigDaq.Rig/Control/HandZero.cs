using RigDaq.Core.Signal;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>The zero outside of a sequence.</summary>
internal sealed class HandZero(LoopContext loop, DeviceView device, ZeroAndLimits zero, SignalWatch signal, SequenceRunner sequence)
{
    /// <summary>How long it may take, in wall time.</summary>
    public static readonly TimeSpan TimeMax = TimeSpan.FromSeconds(10);

    /// <summary>So many windows are looked at before it is given up: noise alone makes one in some hundreds seem to move
    /// (<see cref="StillWindow"/>), three in a row one in some ten millions.</summary>
    public const int TriesMax = 3;

    private Asked? _asked;

    /// <summary>Takes it.</summary>
    public void Take(Action<CommandResult> done)
    {
        if (sequence.State is { Stage: SequenceStage.Held })
        {
            // What hangs in the grips would be tared away, and the next pull would not have it.
            done(CommandResult.Refused(RigText.HeldKeepsZero));
            return;
        }

        if (sequence.IsUnfinished)
        {
            CommandResult asked = sequence.Request(new ZeroAsked(), RigText.ZeroIsBeingTaken);
            bool asks = asked.Done && sequence.State is { Step: SequenceStep.AwaitingOpenGrip };
            done(asks ? CommandResult.Ok(RigText.OpenGripFirst) : asked);
            return;
        }

        if (_asked is not null || device.Session is not { StateKnown: true })
        {
            done(CommandResult.Refused(_asked is null ? RigText.DeviceNotConnected : RigText.ZeroTakenAlready));
            return;
        }

        _asked = new Asked(loop.Time.GetTimestamp(), done);
        OpenWindow(_asked);
    }

    /// <summary>Gives up what takes too long.</summary>
    public void Tick()
    {
        if (_asked is not { } asked || loop.Time.GetElapsedTime(asked.Since) <= TimeMax) return;
        GiveUp(!asked.Reason.IsEmpty ? RigText.KeepHandsOff(asked.Reason) : RigText.NoSamplesForZero);
    }

    /// <summary>The device is gone or another start.</summary>
    public void Forget() => GiveUp(RigText.DeviceGone);

    private void GiveUp(Sentence why)
    {
        if (_asked is not { } asked) return;
        if (asked.Window is { } window) signal.Close(window);
        _asked = null;
        asked.Done(CommandResult.Refused(why));
    }

    private void OpenWindow(Asked asked)
    {
        asked.Tries++;
        asked.Window = new SignalWindow(loop.Options.HandMotion.ZeroSeconds, Judge);
        signal.Open(asked.Window);
    }

    private void Judge(Stillness seen)
    {
        if (_asked is not { } asked) return;
        if (!seen.IsStill && asked.Tries < TriesMax)
        {
            asked.Reason = seen.Reason;
            OpenWindow(asked);
            return;
        }

        _asked = null;
        if (seen.IsStill) zero.TakeByHand(seen.Mean, seen.Deviation);
        asked.Done(seen.IsStill ? CommandResult.Ok(RigText.ZeroIsTaken) : CommandResult.Refused(RigText.KeepHandsOff(seen.Reason)));
        loop.PublishSoon();
    }

    /// <summary>A zero that is being looked for.</summary>
    private sealed class Asked(long since, Action<CommandResult> done)
    {
        public long Since => since;

        public Action<CommandResult> Done => done;

        public SignalWindow? Window { get; set; }

        public int Tries { get; set; }

        /// <summary>Why the last window did not do; empty before the first.</summary>
        public Sentence Reason { get; set; } = Sentence.None;
    }
}
