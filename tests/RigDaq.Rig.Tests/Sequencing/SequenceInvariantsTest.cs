using RigDaq.Core.Pulls;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Interlocks;
using RigDaq.Text;

namespace RigDaq.Rig.Tests.Sequencing;

/// <summary>An invariant that is broken is seen, and nothing else is said to be: the worlds of the tests rest on it.</summary>
public sealed class SequenceInvariantsTest
{
    private static readonly RigConditions Rig = new()
    {
        HasGuard = true,
        CalibrationNumber = 1,
        Facts = GoodFacts.All,
    };

    private static readonly SequencePlan Plan = new() { SequenceId = "q", StudyId = "s", SpecimenIds = ["A"] };

    private static readonly SequenceState Good = Sequencer.Create(Plan, Rig, 10) with
    {
        Step = new SequenceStep.Pulling("run"),
        Ticket = 5,
        Zero = new SequenceZero.Settled(new ZeroReading(1000, 1)),
        Limits = new LimitsBasis(1000, 1),
        Turn = new SpecimenTurn(0) { Loaded = true },
        Grips = GripKnowledge.FarOneOpen,
    };

    private static readonly SequenceState Held = Good with { Step = new SequenceStep.Held(), Reason = Sentence.Verbatim("why") };

    private static readonly SequenceState Back = Good with { Step = new SequenceStep.GoingToStart() };

    private static readonly SequenceState BehindOpenGuard = Good with { Rig = Rig with { Facts = Rig.Facts with { GuardClosed = false } } };

    private static readonly SequenceState WithoutMotor = Good with { Rig = Rig with { Facts = Rig.Facts with { CanMove = false } } };

    private static readonly SequenceZero WornOut = new SequenceZero.Standing(new ZeroReading(1000, 1, SequenceLimits.PullsOnZeroMax + 1));

    private static readonly EndPull End = new("run", PullEnding.Broken, Sentence.None);

    private static readonly SequenceState Ended = Good with { Step = new SequenceStep.Finished() };

    private static readonly MoveTo Move = new(5, 30, 1);

    private static readonly (string What, SequenceState Before, SequenceState After, SequenceCommand? Command, int Broken)[] Rows =
    [
        ("a pull that moves", Good, Good, Move, 0),
        ("a zero with nothing joined", Good, Good with { ZerosTaken = 1 }, null, 0),
        ("the end of a pull", Good, Held with { Storage = new PullStorage.Storing("run") }, End, 0),
        ("an older ticket", Good, Good with { Ticket = 4 }, null, 1),
        ("on after the end", Ended, Good, null, 1),
        ("a motion after the end", Ended, Ended, Move, 1),
        ("held without a word", Good, Held with { Reason = Sentence.None }, null, 1),
        ("a pull in the grips and one on its way to the disk", Good, Good with { Storage = new PullStorage.Storing("before") }, null, 1),
        ("a capture that nobody opens", Good, Good with { Step = new SequenceStep.OpeningCapture() }, null, 1),
        ("a zero of a joined piece", Good with { Grips = GripKnowledge.MayTouch }, Good with { ZerosTaken = 1 }, null, 1),
        ("too many pulls on a zero", Good, Good with { Zero = WornOut }, null, 1),
        ("a zero asked for with a joined piece", Good, Good with { Grips = GripKnowledge.MayBeJoined }, new TakeZero(5, 1, null), 1),
        ("a zero asked for behind an open guard", Good, BehindOpenGuard, new TakeZero(5, 1, null), 1),
        ("limits without a motor", Good, WithoutMotor, new SetLimits(5, new LimitsBasis(1000, 1)), 1),
        ("a capture without a specimen", Good, Good with { Turn = new SpecimenTurn(0) }, new OpenCapture(), 1),
        ("a capture behind an open guard", Good, BehindOpenGuard, new OpenCapture(), 1),
        ("a capture without a zero", Good, Good with { Zero = null }, new OpenCapture(), 1),
        ("a handle on a rig with a motor", Good, Good, new WatchPull("run", TurnedByHand: true), 1),
        ("a pull that ends and is not stored", Good, Held, End, 1),
        ("a motion behind an open guard", Good, BehindOpenGuard, Move, 1),
        ("a way back under limits of another calibration", Good, Back with { Limits = new LimitsBasis(1000, 0) }, Move, 1),
        ("a way back under limits of the zero before", Good, Back with { Limits = new LimitsBasis(999, 1) }, Move, 0),
        ("a pull under limits of the zero before", Good, Good with { Limits = new LimitsBasis(999, 1) }, Move, 1),
    ];

    public static TheoryData<string> Names => [.. Rows.Select(row => row.What)];

    [Theory]
    [MemberData(nameof(Names))]
    public void What_is_broken_is_seen_and_nothing_else(string what)
    {
        (_, SequenceState before, SequenceState after, SequenceCommand? command, int broken) = Rows.Single(row => row.What == what);
        Assert.Equal(broken, SequenceInvariants.Broken(before, after, command is null ? [] : [command]).Count);
    }
}
