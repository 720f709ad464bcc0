using System.Diagnostics;
using System.Runtime.CompilerServices;
using RigDaq.Rig.Interlocks;
using static RigDaq.Rig.Sequencing.SequenceStep;

namespace RigDaq.Rig.Sequencing;

/// <summary>What holds after each transition of a sequence, whatever happened, where its types cannot say it. Debug builds assert it, and
/// the tests ask the same.</summary>
internal sealed class SequenceInvariants
{
    private readonly List<string> _broken = [];

    /// <exception cref="UnreachableException">Something does not hold. The control loop then stops the rig.</exception>
    [Conditional("DEBUG")]
    public static void Assert(SequenceState before, SequenceState after, IReadOnlyList<SequenceCommand> commands)
    {
        if (Broken(before, after, commands) is { Count: > 0 } broken)
            throw new UnreachableException(string.Join('\n', [$"{before.Step} -> {after.Step}", .. broken]));
    }

    /// <summary>What does not hold, each as it is written below.</summary>
    public static IReadOnlyList<string> Broken(SequenceState before, SequenceState after, IReadOnlyList<SequenceCommand> commands)
    {
        var invariants = new SequenceInvariants();
        invariants.OfState(before, after);
        foreach (SequenceCommand command in commands) invariants.OfCommand(before, after, command);
        return invariants._broken;
    }

    private void OfState(SequenceState before, SequenceState after)
    {
        Hold(after.Ticket >= before.Ticket);
        // The end is the end, and whoever is held is told why.
        Hold(before.Step is not Finished || after.Step is Finished);
        Hold(after.Step is not Held || !after.Reason.IsEmpty);
        // While a pull is open the disk owes nothing; a capture that is waited for was asked for.
        Hold(after.Step is not InPull || after.Storage is null);
        Hold(after.Step is not OpeningCapture || after.Storage is PullStorage.OpeningCapture);
        // A piece that is to be taken out is told of, whatever comes between.
        Hold(before.Turn.HoldOwed is null || after.Turn.HoldOwed is not null || after.Turn.Index == before.Turn.Index
            || after.Step is Held or Finished);
        // A zero holds no piece's force, and serves no more pulls than it may.
        Hold(after.ZerosTaken == before.ZerosTaken || before.NothingJoinsGrips);
        Hold(after.Zero is not { Reading.Pulls: > SequenceLimits.PullsOnZeroMax });
    }

    private void OfCommand(SequenceState before, SequenceState after, SequenceCommand command)
    {
        Hold(before.Step is not Finished || command is StopMotion or EndPull);
        switch (command)
        {
            case TakeZero:
                Hold(after.NothingJoinsGrips);
                Hold(!after.Rig.HasGuard || after.Rig.Facts.GuardClosed);
                break;
            case SetLimits or WatchRelief: Hold(!after.Rig.TurnedByHand); break;
            case OpenCapture:
                // Nothing starts on fingers.
                Hold(after.Rig.HasFeeder ? after.Turn.Fed : after.Turn.Loaded && after.Rig.Facts.GuardClosed);
                Hold(after.Zero is SequenceZero.Settled);
                break;
            case WatchPull watch: Hold(watch.TurnedByHand == after.Rig.TurnedByHand); break;
            case EndPull end: Hold(after.Storage == new PullStorage.Storing(end.RunId)); break;
            case MotionCommand:
                Hold(command is not FeedSpecimen || after.Turn.HoldOwed is null);
                // Without a motor there is always something against it.
                Hold(MotionInterlocks.ReasonsAgainst(after.Rig.Facts).Count == 0);
                Hold(after.Limits?.CalibrationNumber == after.Rig.CalibrationNumber);
                // What goes back may do so under the limits of the zero before: that of the next pull was taken on the way.
                Hold(after.Step is not Running || after.Limits == after.LimitsWanted);
                break;
        }
    }

    private void Hold(bool holds, [CallerArgumentExpression(nameof(holds))] string invariant = "")
    {
        if (!holds) _broken.Add(invariant);
    }
}
