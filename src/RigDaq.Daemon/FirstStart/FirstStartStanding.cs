using RigDaq.App.Rigs;
using RigDaq.Core.Safety;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.FirstStart;

/// <summary>The part of a first start in which nothing moves: each input is worked by hand and has to show, it alone; the cell is pulled by
/// hand.</summary>
internal sealed class FirstStartStanding(RigController rig, FirstStartTalk talk)
{
    /// <summary>A pull by hand stands so far out of what the counts do by themselves.</summary>
    private const double NoiseTimes = 8;

    /// <summary>Also of a converter that is quiet.</summary>
    private const double CountsMin = 50;

    /// <summary>How many snapshots show what the counts do by themselves: a second or two.</summary>
    private const int Looks = 20;

    private const InputStates Worked =
        InputStates.GuardClosed | InputStates.EmergencyStopReleased | InputStates.LowerLimit | InputStates.UpperLimit;
    private static readonly TimeSpan LooksMax = TimeSpan.FromSeconds(30);

    /// <summary>Whether the converter lives and which way it counts.</summary>
    public async Task<FirstStartFinding> ConverterAsync(CancellationToken cancellation)
    {
        (double low, double high) = await AtRestAsync(cancellation).ConfigureAwait(false);
        double middle = (low + high) / 2, far = Math.Max(CountsMin, NoiseTimes * (high - low));
        talk.Ask(FirstStartAct.PullOnCell, TerminalText.FirstStartPull);
        RigSnapshot? pulled = await talk.SeesAsync(s => s.Counts is { } c && Math.Abs(c - middle) > far, TerminalText.FirstStartPullSeen,
            cancellation).ConfigureAwait(false);
        if (pulled?.Counts is not { } counts) return new FirstStartFinding(FirstStartStep.Converter, FirstStartOutcome.LeftOut,
            TerminalText.FirstStartNotSeen);
        talk.Ask(FirstStartAct.LetGoOfCell, TerminalText.FirstStartLetGoOfCell);
        await talk.SeesAsync(s => s.Counts is { } c && Math.Abs(c - middle) < far, TerminalText.FirstStartCellRests, cancellation)
            .ConfigureAwait(false);
        return counts > middle
            ? new FirstStartFinding(FirstStartStep.Converter, FirstStartOutcome.Passed, TerminalText.FirstStartCountsRise(counts - middle))
            : new FirstStartFinding(FirstStartStep.Converter, FirstStartOutcome.Failed, TerminalText.FirstStartCountsFall(middle - counts));
    }

    /// <summary>Whether an input shows what is done to it, and no other does.</summary>
    public async Task<FirstStartFinding> InputAsync(FirstStartStep step, FirstStartContact contact, CancellationToken cancellation)
    {
        if (!Rests(rig.Snapshot, contact))
        {
            talk.Ask(contact.Back, TerminalText.FirstStartReadsWorked(contact.Name));
            if (await talk.SeesAsync(s => Rests(s, contact), TerminalText.FirstStartRests(contact.Name), cancellation)
                .ConfigureAwait(false) is null)
                return new FirstStartFinding(step, FirstStartOutcome.Failed, TerminalText.FirstStartAlwaysWorked(contact.Name));
        }

        InputStates before = rig.Snapshot.Inputs;
        talk.Ask(contact.Work, TerminalText.FirstStartWork(contact.Work));
        RigSnapshot? seen = await talk.SeesAsync(s => Changed(s, before) != 0, TerminalText.FirstStartWorked(contact.Name), cancellation)
            .ConfigureAwait(false);
        if (seen is null) return new FirstStartFinding(step, FirstStartOutcome.LeftOut, TerminalText.FirstStartNotSeen);
        InputStates other = Changed(seen, before) & ~contact.Input;
        talk.Ask(contact.Back, TerminalText.FirstStartWork(contact.Back));
        RigSnapshot? back = await talk.SeesAsync(s => Changed(s, before) == 0, TerminalText.FirstStartRests(contact.Name), cancellation)
            .ConfigureAwait(false);
        if (other != 0) return new FirstStartFinding(step, FirstStartOutcome.Failed, TerminalText.FirstStartOther(contact.Name, other));
        return back is null ? new FirstStartFinding(step, FirstStartOutcome.Failed, TerminalText.FirstStartStays(contact.Name))
            : new FirstStartFinding(step, FirstStartOutcome.Passed, TerminalText.FirstStartAlone(contact.Name));
    }

    private static InputStates Changed(RigSnapshot now, InputStates before) => (now.Inputs ^ before) & Worked;

    private static bool Rests(RigSnapshot now, FirstStartContact contact) => now.Inputs.HasFlag(contact.Input) == contact.IsSetAtRest;

    private async Task<(double Low, double High)> AtRestAsync(CancellationToken cancellation)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        long last = -1;
        for (int i = 0; i < Looks; i++)
        {
            RigSnapshot now = await rig.WhenAsync(s => s.Counts is not null && s.SamplesReceived > last, LooksMax,
                TerminalText.FirstStartConversions, cancellation).ConfigureAwait(false);
            (last, low, high) = (now.SamplesReceived, Math.Min(low, now.Counts!.Value), Math.Max(high, now.Counts.Value));
        }

        return (low, high);
    }
}
