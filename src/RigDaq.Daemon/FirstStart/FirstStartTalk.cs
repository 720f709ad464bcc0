using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Text;

namespace RigDaq.Daemon.FirstStart;

/// <summary>What goes to and fro between the first start and the person at the rig.</summary>
/// <param name="rig">The rig.</param>
/// <param name="typed">What the person types.</param>
/// <param name="say">Says something to the person, with what is asked for.</param>
internal sealed class FirstStartTalk(RigController rig, TypedLines typed, Action<FirstStartAct, Sentence> say)
{
    /// <summary>A person looks for a switch and gets to it; in wall time.</summary>
    public static readonly TimeSpan HandMax = TimeSpan.FromMinutes(3);

    /// <summary>Tells something.</summary>
    public void Tell(Sentence words) => say(FirstStartAct.None, words);

    /// <summary>Asks for something that is seen by itself.</summary>
    public void Ask(FirstStartAct act, Sentence words) => say(act, words);

    /// <summary>Whether the person types the word.</summary>
    public async Task<bool> SaysAsync(FirstStartAct act, string word, Sentence prompt, CancellationToken cancellation) =>
        string.Equals(await AnswerAsync(act, prompt, cancellation).ConfigureAwait(false), word, StringComparison.OrdinalIgnoreCase);

    /// <summary>What the person types; null where the terminal is gone.</summary>
    public Task<string?> AnswerAsync(FirstStartAct act, Sentence prompt, CancellationToken cancellation) =>
        typed.AnswerAsync(prompt, words => say(act, words), cancellation);

    /// <summary>Does something that any typed line stops.</summary>
    /// <returns>False where a line did.</returns>
    public Task<bool> WhileWatchedAsync(Func<CancellationToken, Task> work, CancellationToken cancellation) =>
        typed.WhileWatchedAsync(work, cancellation);

    /// <summary>Waits until the rig shows something; a typed line leaves it out.</summary>
    /// <returns>Null where it was left out, or did not come in time.</returns>
    public async Task<RigSnapshot?> SeesAsync(Func<RigSnapshot, bool> seen, Sentence what, CancellationToken cancellation)
    {
        RigSnapshot? end = null;
        try
        {
            await WhileWatchedAsync(async watched => end = await rig.WhenAsync(seen, HandMax, what, watched).ConfigureAwait(false),
                cancellation).ConfigureAwait(false);
        }
        catch (CannotBeDoneException late)
        {
            Tell(late.Sentence);
        }

        return end;
    }

    /// <summary>Clears what the person's own doing has latched; its cause was just seen to be gone.</summary>
    /// <exception cref="CannotBeDoneException">Something stays latched.</exception>
    public async Task ClearAsync(CancellationToken cancellation)
    {
        if (rig.Snapshot.Faults == DeviceFaults.None) return;
        CommandResult cleared = await rig.ClearFaultsAsync().ConfigureAwait(false);
        if (!cleared.Done) throw new CannotBeDoneException(cleared.Message);
        await rig.WhenAsync(s => s.Faults == DeviceFaults.None, TimeSpan.FromSeconds(5), TerminalText.MeasureCleared, cancellation)
            .ConfigureAwait(false);
    }
}
