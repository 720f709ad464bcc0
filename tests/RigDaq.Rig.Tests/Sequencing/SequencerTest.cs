using RigDaq.Core.Pulls;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Interlocks;
using RigDaq.Text;

namespace RigDaq.Rig.Tests.Sequencing;

public sealed class SequencerTest
{
    private static readonly RigConditions Feeder = new()
    {
        BootNumber = 1,
        HasFeeder = true,
        HasGuard = true,
        PositionMillimetres = 10,
        Facts = GoodFacts.All,
    };

    private static readonly SequencePlan Plan = new() { SequenceId = "q", StudyId = "s", SpecimenIds = ["A", "B", "C"] };

    private SequenceState _state = Sequencer.Create(Plan, Feeder, 10);
    private IReadOnlyList<SequenceCommand> _commands = [];

    [Fact]
    public void A_finished_sequence_cannot_be_ended_again_and_keeps_what_it_said()
    {
        Happen(new Begun());
        Happen(new FinishAsked());
        Sentence reason = _state.Reason;
        Assert.NotEmpty(Sequencer.ReasonsAgainst(_state, new FinishAsked()));
        Happen(new FinishAsked());
        Assert.Empty(_commands);
        Happen(new ProgramEnds());
        Assert.Equal(reason, _state.Reason);
        Assert.Empty(Sequencer.ReasonsAgainst(_state, new StopAsked()));
    }

    [Fact]
    public void Walks_from_the_zero_to_the_next_specimen_in_order()
    {
        var stages = new List<string>();
        void Note() => stages.Add(_state.Stage.Word());
        Happen(new Begun());
        Note();
        Assert.IsType<TakeZero>(_commands[0]);
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Assert.IsType<SetLimits>(_commands[0]);
        Happen(new LimitsSet(_state.Ticket));
        Assert.IsType<FeedSpecimen>(_commands[0]);
        Look(Feeder with { SpecimenLoaded = true });
        Happen(new MotionEnded(_state.MotionTicket));
        Note();
        Happen(new ForceMeasured(_state.Ticket, 0.5));
        Assert.IsType<OpenCapture>(_commands[0]);
        Happen(new CaptureOpened("run"));
        Note();
        Assert.Contains(_commands, c => c is MoveTo { Millimetres: 30 });
        Happen(new PreloadReached("run"));
        Note();
        // Slack and pull have the same speed in this plan: the motion goes on as it is.
        Assert.Empty(_commands);
        Happen(new PullDecided("run", DetectorState.Broken));
        Assert.IsType<StopMotion>(_commands[0]);
        Look(_state.Rig with { PositionMillimetres = 11 });
        Happen(new MotionEnded(_state.MotionTicket));
        Assert.IsType<MeasureZeroReturn>(_commands[0]);
        Happen(new ZeroReturned(_state.Ticket));
        Note();
        Assert.Equal(new EndPull("run", PullEnding.Broken, Sentence.None), _commands[0]);
        // The halves are drawn further apart, the next zero is taken there, and only then the crosshead goes back.
        Assert.Contains(_commands, c => c is MoveTo { Millimetres: 12 });
        Happen(new MotionEnded(_state.MotionTicket));
        Assert.IsType<TakeZero>(_commands[0]);
        Happen(new ZeroTaken(_state.Ticket, 1001, 0.01));
        Assert.Contains(_commands, c => c is MoveTo { Millimetres: 10 });
        Look(_state.Rig with { PositionMillimetres = 10 });
        Happen(new MotionEnded(_state.MotionTicket));
        Assert.Equal(0, _state.Turn.Index);
        Happen(new PullStored("run"));
        Assert.Equal(1, _state.Turn.Index);
        Note();
        Assert.Equal(["waiting for specimen", "ready", "taking up slack", "pulling", "returning", "waiting for specimen"], stages);
    }

    [Fact]
    public void A_zero_far_from_the_one_before_is_taken_only_after_a_person_has_said_that_the_far_grip_is_open()
    {
        _state = Sequencer.Create(Plan, Feeder with { HasFeeder = false }, 10);
        Happen(new Begun());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Happen(new LimitsSet(_state.Ticket));
        Happen(new ZeroAsked());
        Happen(new OpenGripConfirmed());
        Assert.Equal(new TakeZero(_state.Ticket, Plan.Settings.ZeroSeconds, 1000), _commands[0]);
        Happen(new ZeroTaken(_state.Ticket, 9000, 35));
        Assert.Equal(SequenceStage.Held, _state.Stage);
        Assert.Contains("35.0 N", _state.Reason);
        Happen(new ResumeAsked());
        Assert.Empty(_commands);
        Assert.IsType<SequenceStep.AwaitingOpenGrip>(_state.Step);
        Assert.Contains("35.0 N", _state.Reason);
        Happen(new OpenGripConfirmed());
        Assert.Equal(new TakeZero(_state.Ticket, Plan.Settings.ZeroSeconds, null), _commands[0]);
    }

    [Theory]
    [InlineData(PullEnding.Stopped)]
    [InlineData(PullEnding.Interrupted)]
    [InlineData(PullEnding.Unbroken)]
    [InlineData(PullEnding.PartlyBroken)]
    public void After_a_pull_that_did_not_wholly_part_the_piece_the_zero_of_before_stands(PullEnding ending)
    {
        BeginPull();
        if (ending == PullEnding.Stopped) Happen(new StopAsked());
        else if (ending == PullEnding.Interrupted) Look(_state.Rig with
        { HasFeeder = false, SpecimenLoaded = false, Facts = new InterlockFacts() });
        else if (ending == PullEnding.Unbroken) Happen(new PullTimeOver("run"));
        else Happen(new PullDecided("run", DetectorState.PartlyBroken));
        GoOnUntil(ending);
        Assert.Equal(ending, _state.Specimens[0].Ending);
        Assert.Equal(1, _state.ZerosTaken);
        Assert.Equal(new SequenceZero.Settled(new ZeroReading(1000, 0, Pulls: 1)), _state.Zero);
    }

    [Fact]
    public void After_an_overload_or_a_restart_the_zero_of_before_does_not_stand_and_a_person_is_asked()
    {
        BeginPull();
        Happen(new ForceLimitPassed("run", 901));
        GoOnUntil(PullEnding.Overload);
        Assert.IsType<SequenceStep.AwaitingOpenGrip>(_state.Step);
        Look(_state.Rig with { Facts = _state.Rig.Facts with { GuardClosed = false } });
        Assert.NotEmpty(Sequencer.ReasonsAgainst(_state, new OpenGripConfirmed()));
        Look(_state.Rig with { Facts = _state.Rig.Facts with { GuardClosed = true } });
        Happen(new OpenGripConfirmed());
        Assert.IsType<TakeZero>(_commands[0]);
        // Hands in while it is taken: closing the guard again is no word that nothing was clamped.
        Look(_state.Rig with { Facts = _state.Rig.Facts with { GuardClosed = false } });
        Assert.IsType<SequenceStep.AwaitingOpenGrip>(_state.Step);
        Look(_state.Rig with { Facts = _state.Rig.Facts with { GuardClosed = true } });
        Assert.Empty(_commands);
    }

    // A defect: the zero that was settled before the restart served the next pull.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void After_a_restart_without_a_pull_a_person_is_asked_as_well(bool hasFeeder)
    {
        RigConditions rig = Feeder with { HasFeeder = hasFeeder };
        _state = Sequencer.Create(Plan, rig, 10);
        Happen(new Begun());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Happen(new LimitsSet(_state.Ticket));
        Look(rig with { BootNumber = 2 });
        Assert.Equal(SequenceStage.Held, _state.Stage);
        Happen(new ResumeAsked());
        Happen(new LimitsSet(_state.Ticket));
        Assert.IsType<SequenceStep.AwaitingOpenGrip>(_state.Step);
        Assert.Empty(_commands);
    }

    // A defect: the feeder is not asked for a specimen that it has put in, so nobody closed the grip that a person had opened.
    [Fact]
    public void With_a_feeder_who_opened_the_far_grip_of_a_specimen_is_told_to_close_it()
    {
        BeginPull();
        Happen(new StopAsked());
        Happen(new PullStored("run"));
        Look(_state.Rig with { BootNumber = 2 });
        Happen(new ResumeAsked());
        Happen(new LimitsSet(_state.Ticket));
        Assert.IsType<SequenceStep.AwaitingOpenGrip>(_state.Step);
        Happen(new OpenGripConfirmed());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Assert.Empty(_commands);
        Assert.Equal(SequenceStage.Held, _state.Stage);
        Assert.Equal("closeFarGrip", _state.Reason.Code);
        Happen(new ResumeAsked());
        Assert.IsType<SequenceStep.MeasuringClamp>(_state.Step);
        Assert.Equal("A", _state.Current.SpecimenId);
    }

    // A defect: "take it out, then resume with the next" was forgotten by a stop, and the next one was fed onto the piece.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_piece_that_is_to_be_taken_out_is_told_of_though_stops_come_on_the_way_back(int stops)
    {
        BeginPull();
        Look(_state.Rig with { PositionMillimetres = 11 });
        Happen(new PullTimeOver("run"));
        Happen(new MotionEnded(_state.MotionTicket));
        Happen(new ZeroReturned(_state.Ticket));
        Happen(new PullStored("run"));
        for (int i = 0; i < stops; i++)
        {
            Assert.Equal(SequenceStage.Returning, _state.Stage);
            Happen(new StopAsked());
            Assert.Equal(SequenceStage.Held, _state.Stage);
            Happen(new ResumeAsked());
        }

        // It goes back, which takes the load off the piece, and is held there.
        Assert.Contains(_commands, c => c is MoveTo { Millimetres: 10 });
        Look(_state.Rig with { PositionMillimetres = 10 });
        Happen(new MotionEnded(_state.MotionTicket));
        Assert.Equal(SequenceStage.Held, _state.Stage);
        Assert.Equal("takeOutThenNext", _state.Reason.Code);
        Happen(new ResumeAsked());
        Assert.IsType<FeedSpecimen>(_commands[0]);
        Assert.Equal("B", _state.Current.SpecimenId);
    }

    [Fact]
    public void A_piece_that_is_to_be_taken_out_is_told_of_after_the_last_one_too()
    {
        _state = Sequencer.Create(Plan with { SpecimenIds = ["A"] }, Feeder, 10);
        BeginPull();
        Look(_state.Rig with { PositionMillimetres = 11 });
        Happen(new PullTimeOver("run"));
        Happen(new MotionEnded(_state.MotionTicket));
        Happen(new ZeroReturned(_state.Ticket));
        Happen(new PullStored("run"));
        Happen(new StopAsked());
        Happen(new ResumeAsked());
        Assert.Equal(SequenceStage.Held, _state.Stage);
        Assert.Equal("takeOutThenNext", _state.Reason.Code);
        Happen(new ResumeAsked());
        Assert.Equal(SequenceStage.Finished, _state.Stage);
    }

    [Fact]
    public void A_piece_that_is_seen_in_the_grips_at_the_start_is_asked_about()
    {
        _state = Sequencer.Create(Plan, Feeder with { SpecimenLoaded = true }, 10);
        Happen(new Begun());
        Assert.IsType<SequenceStep.AwaitingOpenGrip>(_state.Step);
        Assert.Empty(_commands);
    }

    [Fact]
    public void A_specimen_that_is_skipped_while_the_feeder_has_it_is_fed_and_set_aside()
    {
        Happen(new Begun());
        Happen(new SkipAsked());
        Assert.Equal(1, _state.Turn.Index);
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Happen(new LimitsSet(_state.Ticket));
        Assert.IsType<FeedSpecimen>(_commands[0]);
        Look(Feeder with { SpecimenLoaded = true });
        Happen(new MotionEnded(_state.MotionTicket));
        // What came is A; B follows.
        Assert.IsType<SequenceStep.Feeding>(_state.Step);
        Assert.IsType<FeedSpecimen>(_commands[0]);
        Happen(new MotionEnded(_state.MotionTicket));
        Assert.IsType<SequenceStep.MeasuringClamp>(_state.Step);
        Assert.Equal("B", _state.Current.SpecimenId);
    }

    [Fact]
    public void An_empty_feeder_holds_and_is_named()
    {
        Happen(new Begun());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Happen(new LimitsSet(_state.Ticket));
        Look(Feeder with { FeederEmpty = true });
        Happen(new MotionEnded(_state.MotionTicket));
        Assert.Equal(SequenceStage.Held, _state.Stage);
        Assert.Equal("feederIsEmpty", _state.Reason.Code);
    }

    [Fact]
    public void A_stop_while_the_capture_is_being_created_still_ends_that_pull_once()
    {
        Happen(new Begun());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Happen(new LimitsSet(_state.Ticket));
        Look(Feeder with { SpecimenLoaded = true });
        Happen(new MotionEnded(_state.MotionTicket));
        Happen(new ForceMeasured(_state.Ticket, 0.5));
        Happen(new StopAsked());
        Assert.Equal(SequenceStage.Held, _state.Stage);
        Assert.NotEmpty(Sequencer.ReasonsAgainst(_state, new ResumeAsked()));
        Happen(new CaptureOpened("run"));
        Assert.Equal(PullEnding.Stopped, Assert.IsType<EndPull>(Assert.Single(_commands)).Ending);
        Happen(new PullStored("run"));
        Assert.Empty(Sequencer.ReasonsAgainst(_state, new ResumeAsked()));
    }

    [Fact]
    public void The_same_state_and_event_give_the_same_answer()
    {
        Happen(new Begun());
        (SequenceState a, IReadOnlyList<SequenceCommand> first) = Sequencer.Step(_state, new ZeroTaken(_state.Ticket, 1000, null));
        (SequenceState b, IReadOnlyList<SequenceCommand> second) = Sequencer.Step(_state, new ZeroTaken(_state.Ticket, 1000, null));
        Assert.Equal(first, second);
        Assert.Equal(a.Specimens, b.Specimens);
        Assert.Equal(a with { Specimens = b.Specimens }, b);
    }

    // A defect: what the detector refused was thrown on the control loop.
    [Fact]
    public void A_detection_that_is_not_possible_is_a_problem_of_the_plan() => Assert.Single(PlanCheck.Problems(
        Plan with { Settings = Plan.Settings with { Detection = new DetectionSettings { FallSeconds = 0 } } }));

    private void BeginPull()
    {
        Happen(new Begun());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Happen(new LimitsSet(_state.Ticket));
        Look(Feeder with { SpecimenLoaded = true });
        Happen(new MotionEnded(_state.MotionTicket));
        Happen(new ForceMeasured(_state.Ticket, 0.5));
        Happen(new CaptureOpened("run"));
        Happen(new PreloadReached("run"));
    }

    /// <summary>A person who resumes without a look, and a rig that does what it is told; until a zero is settled or somebody is
    /// asked.</summary>
    private void GoOnUntil(PullEnding ending)
    {
        bool stored = false;
        for (int i = 0; i < 40 && (_state.Specimens[0].Ending is null || _state.Zero is not SequenceZero.Settled)
            && _state.Step is not SequenceStep.AwaitingOpenGrip; i++)
        {
            if (!stored && _state.Storage is PullStorage.Storing)
            {
                stored = true;
                Happen(new PullStored("run"));
            }
            else if (_state.Step is SequenceStep.Held)
            {
                Look(Feeder with { SpecimenLoaded = true });
                Happen(new ResumeAsked());
            }
            else if (_state.Step is SequenceStep.Settling)
            {
                Happen(new ZeroReturned(_state.Ticket));
            }
            else
            {
                Happen(new MotionEnded(_state.MotionTicket));
            }
        }

        Assert.True(_state.Zero is SequenceZero.Settled || _state.Step is SequenceStep.AwaitingOpenGrip,
            $"{ending}: {_state.Step}, {_state.Reason}");
    }

    private void Happen(SequenceEvent e) => (_state, _commands) = Sequencer.Step(_state, e);

    private void Look(RigConditions now) => Happen(new ConditionsChanged(now));
}
