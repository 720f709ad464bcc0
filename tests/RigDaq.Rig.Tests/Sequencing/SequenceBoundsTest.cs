using RigDaq.Core.Pulls;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Interlocks;
using RigDaq.Text;

namespace RigDaq.Rig.Tests.Sequencing;

/// <summary>Each bound of a sequence at the bound and one beyond it. That a timer is over when its time is over, and not before, is the
/// control loop's.</summary>
public sealed class SequenceBoundsTest
{
    private static readonly Sentence Restless = Sentence.Verbatim("it moves");

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
    public void ZeroTriesMax()
    {
        Happen(new Begun());
        for (int i = 1; i < SequenceLimits.ZeroTriesMax; i++) AgainAfterRestless<SequenceStep.TakingZero>();
        Happen(new WindowRestless(_state.Ticket, Restless));
        Held(Restless);
    }

    [Fact]
    public void ZeroApartTriesMax()
    {
        BreakAndDrawApart();
        for (int i = 1; i < SequenceLimits.ZeroApartTriesMax; i++) AgainAfterRestless<SequenceStep.TakingZeroApart>();
        Happen(new WindowRestless(_state.Ticket, Restless));
        // That of before stands: it goes back.
        Assert.IsType<SequenceStep.Returning>(_state.Step);
        Assert.Equal(new SequenceZero.Standing(new ZeroReading(1000, 0, Pulls: 1)), _state.Zero);
    }

    [Theory]
    [InlineData(SequenceLimits.PullsOnZeroMax - 1, true)]
    [InlineData(SequenceLimits.PullsOnZeroMax, false)]
    public void PullsOnZeroMax(int pulls, bool stands)
    {
        ToClamp();
        // An unbroken piece may still join the grips: no zero can be taken, so that of before stands, for so many pulls.
        var zero = new SequenceZero.Standing(new ZeroReading(1000, 0, pulls));
        _state = _state with { Zero = zero, Grips = GripKnowledge.MayBeJoined, Step = new SequenceStep.Held() };
        Happen(new ResumeAsked());
        Assert.Equal(stands ? new SequenceZero.Settled(zero.Reading) : new SequenceZero.InDoubt(zero.Reading), _state.Zero);
        Assert.Equal(stands ? new SequenceStep.MeasuringClamp(0) : new SequenceStep.Held(), _state.Step);
    }

    [Fact]
    public void ClampTriesMax()
    {
        ToClamp();
        for (int i = 1; i < SequenceLimits.ClampTriesMax; i++) AgainAfterRestless<SequenceStep.MeasuringClamp>();
        Happen(new WindowRestless(_state.Ticket, Restless));
        Held(Restless);
    }

    [Fact]
    public void ReliefTriesMax_ReliefTravelMillimetres_ReliefSpeedMillimetresPerSecond_RelievedShare()
    {
        ToClamp();
        double allowed = Plan.Settings.PreloadNewtons;
        for (int i = 0; i < SequenceLimits.ReliefTriesMax; i++)
        {
            Happen(new ForceMeasured(_state.Ticket, allowed * 1.01));
            Assert.IsType<SequenceStep.RelievingClamp>(_state.Step);
            MoveTo move = Assert.Single(_commands.OfType<MoveTo>());
            Assert.Equal(10 - SequenceLimits.ReliefTravelMillimetres, move.Millimetres);
            Assert.Equal(Math.Min(SequenceLimits.ReliefSpeedMillimetresPerSecond / (1 << i), Plan.Settings.SlackSpeedMillimetresPerSecond),
                move.SpeedMillimetresPerSecond);
            Assert.Equal(allowed * SequenceLimits.RelievedShare, Assert.Single(_commands.OfType<WatchRelief>()).BelowNewtons);
            Timed(SequenceLimits.ReturnMax);
            Happen(new ForceRelieved(_state.Ticket));
            Happen(new MotionEnded(_state.MotionTicket));
            Assert.IsType<SequenceStep.MeasuringClamp>(_state.Step);
        }

        // At what is allowed it goes on; beyond it, after so many tries, a person is asked.
        SequenceState before = _state;
        Happen(new ForceMeasured(_state.Ticket, allowed));
        Assert.IsType<SequenceStep.OpeningCapture>(_state.Step);
        _state = before;
        Happen(new ForceMeasured(_state.Ticket, allowed * 1.01));
        Held("A");
    }

    [Fact]
    public void ZeroReturnTriesMax_ZeroReturnSecondsMax()
    {
        Break();
        Assert.Equal(Math.Min(Plan.Settings.ZeroSeconds, SequenceLimits.ZeroReturnSecondsMax),
            Assert.Single(_commands.OfType<MeasureZeroReturn>()).Seconds);
        for (int i = 1; i < SequenceLimits.ZeroReturnTriesMax; i++) AgainAfterRestless<SequenceStep.Settling>();
        Happen(new WindowRestless(_state.Ticket, Restless));
        // The run is closed without it.
        Assert.Equal(PullEnding.Broken, Assert.Single(_commands.OfType<EndPull>()).Ending);
    }

    [Theory]
    [InlineData(0.3, 0.3)]
    [InlineData(0.5, 0.5)]
    [InlineData(0.6, 0.5)]
    public void ZeroReturnSecondsMax_is_the_most_and_no_less(double zeroSeconds, double window)
    {
        Assert.Equal(0.5, SequenceLimits.ZeroReturnSecondsMax);
        _state = Sequencer.Create(Plan with { Settings = Plan.Settings with { ZeroSeconds = zeroSeconds } }, Feeder, 10);
        Break();
        Assert.Equal(window, Assert.Single(_commands.OfType<MeasureZeroReturn>()).Seconds);
    }

    [Fact]
    public void ClampSeconds()
    {
        ToClamp();
        Assert.Equal(SequenceLimits.ClampSeconds, Assert.Single(_commands.OfType<MeasureForce>()).Seconds);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    public void SeparationMillimetres(double beforeTheEnd)
    {
        double end = 10 + Plan.Settings.TravelLimitMillimetres, at = end - beforeTheEnd;
        Break(at);
        Happen(new ZeroReturned(_state.Ticket));
        // So much further apart, but never beyond the travel that a person accepted.
        Assert.Equal(Math.Min(end, at + SequenceLimits.SeparationMillimetres), Assert.Single(_commands.OfType<MoveTo>()).Millimetres);
    }

    [Theory]
    [InlineData(0.99, false)]
    [InlineData(1.01, true)]
    public void StartToleranceMillimetres(double share, bool goesBack)
    {
        _state = Sequencer.Create(Plan, Feeder with { PositionMillimetres = 10 + (share * SequenceLimits.StartToleranceMillimetres) }, 10);
        Happen(new Begun());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Happen(new LimitsSet(_state.Ticket));
        Assert.Equal(goesBack ? new SequenceStep.GoingToStart() : new SequenceStep.Feeding(), _state.Step);
    }

    [Fact]
    public void WindowMax_of_a_zero()
    {
        Happen(new Begun());
        OverAt(SequenceLimits.WindowMax);
    }

    [Fact]
    public void LimitsMax()
    {
        Happen(new Begun());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Assert.IsType<SequenceStep.SettingLimits>(_state.Step);
        OverAt(SequenceLimits.LimitsMax);
    }

    [Fact]
    public void FeedMax()
    {
        Happen(new Begun());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Happen(new LimitsSet(_state.Ticket));
        Assert.IsType<SequenceStep.Feeding>(_state.Step);
        OverAt(SequenceLimits.FeedMax);
    }

    [Fact]
    public void WindowMax_of_a_clamping_force()
    {
        ToClamp();
        OverAt(SequenceLimits.WindowMax);
    }

    [Fact]
    public void CaptureMax()
    {
        ToClamp();
        Happen(new ForceMeasured(_state.Ticket, 0.5));
        Assert.IsType<SequenceStep.OpeningCapture>(_state.Step);
        OverAt(SequenceLimits.CaptureMax);
    }

    [Fact]
    public void StandMax()
    {
        BeginPull();
        Happen(new PullDecided("run", DetectorState.Broken));
        Assert.IsType<SequenceStep.Stopping>(_state.Step);
        Timed(SequenceLimits.StandMax);
        Happen(new TimerOver(_state.Ticket));
        Assert.IsNotType<SequenceStep.Stopping>(_state.Step);
    }

    [Fact]
    public void ReturnMax()
    {
        BreakAndDrawApart();
        Happen(new ZeroTaken(_state.Ticket, 1001, 0.01));
        Assert.IsType<SequenceStep.Returning>(_state.Step);
        OverAt(SequenceLimits.ReturnMax);
    }

    private void AgainAfterRestless<TStep>()
        where TStep : SequenceStep
    {
        Happen(new WindowRestless(_state.Ticket, Restless));
        Assert.IsType<TStep>(_state.Step);
    }

    private void Held(string words)
    {
        Assert.Equal(SequenceStage.Held, _state.Stage);
        Assert.Contains(words, _state.Reason, StringComparison.Ordinal);
    }

    private void Timed(TimeSpan bound)
        => Assert.Contains(_commands.OfType<StartTimer>(), timer => timer.Time == bound && timer.Ticket == _state.Ticket);

    /// <summary>Nothing waits longer than the bound: then it is held. News of a step that is over is no news.</summary>
    private void OverAt(TimeSpan bound)
    {
        Timed(bound);
        SequenceStep step = _state.Step;
        Happen(new TimerOver(_state.Ticket - 1));
        Assert.Equal(step, _state.Step);
        Happen(new TimerOver(_state.Ticket));
        Assert.Equal(SequenceStage.Held, _state.Stage);
    }

    private void ToClamp()
    {
        Happen(new Begun());
        Happen(new ZeroTaken(_state.Ticket, 1000, null));
        Happen(new LimitsSet(_state.Ticket));
        Look(Feeder with { SpecimenLoaded = true });
        Happen(new MotionEnded(_state.MotionTicket));
        Assert.IsType<SequenceStep.MeasuringClamp>(_state.Step);
    }

    private void BeginPull()
    {
        ToClamp();
        Happen(new ForceMeasured(_state.Ticket, 0.5));
        Happen(new CaptureOpened("run"));
        Happen(new PreloadReached("run"));
    }

    private void Break(double atMillimetres = 11)
    {
        BeginPull();
        Happen(new PullDecided("run", DetectorState.Broken));
        Look(_state.Rig with { PositionMillimetres = atMillimetres });
        Happen(new MotionEnded(_state.MotionTicket));
        Assert.IsType<SequenceStep.Settling>(_state.Step);
    }

    private void BreakAndDrawApart()
    {
        Break();
        Happen(new ZeroReturned(_state.Ticket));
        Assert.IsType<SequenceStep.Separating>(_state.Step);
        Look(_state.Rig with { PositionMillimetres = 12 });
        Happen(new MotionEnded(_state.MotionTicket));
        Assert.IsType<SequenceStep.TakingZeroApart>(_state.Step);
    }

    private void Happen(SequenceEvent e) => (_state, _commands) = Sequencer.Step(_state, e);

    private void Look(RigConditions now) => Happen(new ConditionsChanged(now));
}
