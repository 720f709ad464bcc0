using RigDaq.Core.Pulls;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.Rig.Tests.Sequencing;

/// <summary>What kind of rig the sequencer is tried on.</summary>
public enum WorldKind
{
    Feeder,
    Guard,
    NeitherGuardNorFeeder,

    /// <summary>It only measures, and a person turns the handle.</summary>
    TurnedByHand,
}

/// <summary>
/// A rig, a disk and a person as far as the sequencer can tell, driven by a seed. It answers commands late, wrongly or not at
/// all, and it holds the sequencer to what must always hold.
/// </summary>
internal sealed partial class SequenceWorld
{
    private readonly Random _random;
    private readonly WorldKind _kind;
    private readonly IWorldStore? _store;
    private readonly double _faultShare;
    private readonly List<(int Due, SequenceEvent Event)> _coming = [];
    private readonly Dictionary<string, (int Opened, int Ended)> _pulls = [];
    private RigConditions _rig;
    private SequenceState _state;
    private int _now;
    private int _runs;
    private bool _moving;
    private bool _guardOpened;
    private bool _guardClosedAgain;
    private bool _announcedSince;
    private bool _confirmed;
    private bool _fed;
    private bool _pulling;
    private string? _pullId;
    private double _target;
    private bool _mayResume;
    private readonly WorldGrips _grips;
    private bool _zeroIsClean;
    private bool _personSeesToIt;
    private bool _feeding;
    private int _limitsMadeWith;

    public SequenceWorld(WorldKind kind, int seed, int specimens, double faultShare, IWorldStore? store = null)
    {
        _store = store;
        _random = new Random(seed);
        _grips = new WorldGrips(new Random(seed));
        _kind = kind;
        _faultShare = faultShare;
        _rig = new RigConditions
        {
            BootNumber = 1,
            HasFeeder = kind == WorldKind.Feeder,
            HasGuard = kind is WorldKind.Feeder or WorldKind.Guard,
            PositionMillimetres = kind == WorldKind.TurnedByHand ? null : 10,
            Facts = new InterlockFacts
            {
                LinkUp = true,
                DeviceKnown = true,
                CanMove = kind != WorldKind.TurnedByHand,
                GuardClosed = true,
                EmergencyStopReleased = true,
                ConverterAlive = true,
                CalibrationInForce = true,
                CalibrationCoversForceLimit = true,
                CautionsAcknowledged = true,
                EmergencyStopTested = true,
            },
        };
        var plan = new SequencePlan
        {
            SequenceId = "q",
            StudyId = "s",
            SpecimenIds = [.. Enumerable.Range(1, specimens).Select(i => $"S{i}")],
            Settings = new PullSettings { SpeedMillimetresPerSecond = seed % 2 == 0 ? 0.5 : 1 },
        };
        _state = Sequencer.Create(plan, _rig, seed % 3 == 0 ? 12 : null);
    }

    public SequenceState State => _state;

    /// <summary>What happened, for a failure to be understood.</summary>
    public List<string> Trace { get; } = [];

    public int FaultsInjected { get; private set; }

    /// <summary>How often a zero was accepted.</summary>
    public int ZerosTaken => _state.ZerosTaken;

    /// <summary>How often a person was asked to open the far grip.</summary>
    public int OpenGripsAsked { get; private set; }

    public int EndPulls => _pulls.Values.Sum(p => p.Ended);

    public IReadOnlyDictionary<string, (int Opened, int Ended)> Pulls => _pulls;

    public bool MayInject { get; set; } = true;

    /// <summary>Runs until it is finished, or so many steps.</summary>
    public void Run(int stepsMax)
    {
        while (_now < stepsMax && Step())
        {
        }
    }

    /// <summary>One step of it; false once it is finished.</summary>
    public bool Step()
    {
        if (_now == 0) Feed(new Begun());
        if (_state.Stage == SequenceStage.Finished) return false;
        StepOnce();
        _now++;
        return true;
    }

    /// <summary>The disk did not keep up with a pull's samples.</summary>
    public void LoseCapture(string runId, string words) => Feed(new CaptureLost(runId, Sentence.Verbatim(words)));

    public void EndTheProgram()
    {
        Feed(new ProgramEnds());
        // What was on its way may still arrive.
        foreach ((int _, SequenceEvent e) in _coming.ToArray()) Arrive(e);
    }

    private void StepOnce()
    {
        if (MayInject && _random.NextDouble() < _faultShare) Disturb();
        int due = _coming.FindIndex(c => c.Due <= _now);
        if (due >= 0)
        {
            SequenceEvent e = _coming[due].Event;
            _coming.RemoveAt(due);
            Arrive(e);
            return;
        }

        if (_coming.Count == 0 || _random.Next(8) == 0) ActAsPerson();
    }

    private void Arrive(SequenceEvent e)
    {
        switch (e)
        {
            case MotionEnded m when m.Ticket == _state.MotionTicket && _moving:
                _moving = false;
                if (_state.Step is SequenceStep.Feeding)
                {
                    _fed = true;
                    _grips.Clamp();
                }

                Look(_rig with
                {
                    PositionMillimetres = _state.Step is SequenceStep.Feeding ? _rig.PositionMillimetres : _target,
                    SpecimenLoaded = _fed
                });
                break;
            case LimitsSet:
                Look(_rig with
                { Facts = _rig.Facts with { LimitsConfirmed = _rig.Facts.LinkUp && _limitsMadeWith == _rig.CalibrationNumber } });
                break;
            case CaptureOpened opened:
                Assert.False(_pulls.ContainsKey(opened.RunId));
                _pulls[opened.RunId] = (1, 0);
                break;
            case PullDecided d when _pulls.TryGetValue(d.RunId, out (int Opened, int Ended) open) && open.Ended == 0:
                _grips.Break(wholly: d.Decision == DetectorState.Broken);
                if (_rig.PositionMillimetres is { } at) Look(_rig with { PositionMillimetres = at + 1 + _random.NextDouble() });
                break;
            case ForceRelieved when _state.Step is SequenceStep.Separating:
                _grips.DrawApart();
                break;
            case TimerOver t when t.Ticket == _state.Ticket && _state.Step is SequenceStep.AnnouncedDelay:
                _announcedSince = true;
                break;
            default:
                break;
        }

        Feed(e);
    }

    private void Feed(SequenceEvent e)
    {
        (SequenceState after, IReadOnlyList<SequenceCommand> commands) = Sequencer.Step(_state, e);
        // In debug builds the step has asserted it; in others nobody else does.
        Assert.Empty(SequenceInvariants.Broken(_state, after, commands));
        if (after.ZerosTaken != _state.ZerosTaken) Assert.True(_zeroIsClean && !_grips.AreJoined,
            "a zero holds the force of a piece that joins the grips");
        if (after.Step is SequenceStep.AwaitingOpenGrip && _state.Step is not SequenceStep.AwaitingOpenGrip) OpenGripsAsked++;
        _state = after;
        Trace.Add($"{_now} {(e is ConditionsChanged ? $"guard {_rig.Facts.GuardClosed} {_rig.Faults} boot{_rig.BootNumber} link{_rig.Facts.LinkUp}" : e.ToString())} -> {after.Step} loaded {after.Turn.Loaded} {after.Zero} {after.Grips}: {string.Join(", ", commands)}");
        foreach (SequenceCommand command in commands) Obey(command);
    }

    private void Look(RigConditions now)
    {
        if (_rig.HasGuard && now.Facts.GuardClosed && !_rig.Facts.GuardClosed && !_personSeesToIt) _grips.Meddle();
        if (!now.Facts.GuardClosed)
        {
            _guardOpened = true;
            _guardClosedAgain = _announcedSince = false;
        }

        if (now.Facts.GuardClosed && _guardOpened) _guardClosedAgain = true;
        _rig = now;
        Feed(new ConditionsChanged(now));
    }

    private void Obey(SequenceCommand command)
    {
        if (command is MotionCommand) Assert.Equal(_rig.CalibrationNumber, _limitsMadeWith);
        switch (command)
        {
            case TakeZero c:
                _zeroIsClean = !_grips.AreJoined;
                Later(_random.Next(6) == 0 ? new WindowRestless(c.Ticket, Sentence.Verbatim("it moves"))
                    : new ZeroTaken(c.Ticket, 1000 + _random.Next(3), c.BeforeCounts is null ? null : _random.Next(20) == 0 ? 30 : 0.01));
                break;
            case MeasureForce c:
                Later(new ForceMeasured(c.Ticket, _random.Next(5) == 0 ? 7 : 0.4));
                break;
            case MeasureZeroReturn c:
                Later(_random.Next(4) == 0 ? new WindowRestless(c.Ticket, Sentence.Verbatim("it moves")) : new ZeroReturned(c.Ticket));
                break;
            case SetLimits c:
                _limitsMadeWith = _rig.CalibrationNumber;
                Look(_rig with { Facts = _rig.Facts with { LimitsConfirmed = false } });
                Later(Unlucky() ? new LimitsRefused(c.Ticket, Sentence.Verbatim("outside")) : new LimitsSet(c.Ticket));
                break;
            case MotionCommand c:
                BeginMotion(c);
                break;
            case WatchRelief c:
                Later(new ForceRelieved(c.Ticket));
                break;
            case StopMotion c:
                // A feed that is cut short may have clamped already.
                if (_moving && _feeding && _random.Next(2) == 0) _grips.Clamp();
                _moving = _feeding = false;
                _pulling = false;
                Later(new MotionEnded(c.Ticket));
                break;
            case StartTimer c:
                // Long after everything else that was asked; the announced delay is the only timer that is meant to end.
                _coming.Add((_now + (_state.Step is SequenceStep.AnnouncedDelay ? 3 : 400), new TimerOver(c.Ticket)));
                break;
            case OpenCapture:
                RequireLoaded();
                if (_store is not null) Later(_store.Open(_state.Current.SpecimenId) is { } begun ? new CaptureOpened(begun)
                    : new CaptureFailed(Sentence.Verbatim("disk full")));
                else if (Unlucky()) Later(new CaptureFailed(Sentence.Verbatim("disk full")));
                else Later(new CaptureOpened($"run{++_runs}"));
                break;
            case WatchPull c:
                _pulling = true;
                _pullId = c.RunId;
                if (c.TurnedByHand) ComesOfPulling(c.RunId);
                break;
            case EndPull c:
                (int opened, int ended) = _pulls[c.RunId];
                _pulls[c.RunId] = (opened, ended + 1);
                Assert.Equal(0, ended);
                _pulling = _guardOpened = _guardClosedAgain = _confirmed = false;
                Later(_store is not null ? _store.End(c) : Unlucky() ? new StoringFailed(c.RunId, Sentence.Verbatim("database away"))
                    : new PullStored(c.RunId));
                break;
            case RetryStore c:
                Later(_store is not null ? _store.Again(c.RunId) : new PullStored(c.RunId));
                break;
            default:
                Assert.Fail($"Nobody does {command}.");
                break;
        }
    }

    private void BeginMotion(MotionCommand command)
    {
        if (Unlucky())
        {
            Later(new MotionFailed(command.Ticket, Sentence.Verbatim("busy")));
            return;
        }

        _moving = true;
        _feeding = command is FeedSpecimen;
        if (_feeding)
        {
            _fed = false;
            _grips.Empty();
        }

        if (command is MoveTo move)
        {
            _target = move.Millimetres;
            if (_target < _rig.PositionMillimetres) _grips.GoBack();
        }

        if (_pulling && _pullId is { } id)
        {
            ComesOfPulling(id);
            Later(new MotionEnded(command.Ticket), 8);
        }
        else
        {
            Later(new MotionEnded(command.Ticket));
        }
    }

    private void ComesOfPulling(string id)
    {
        if (_random.Next(10) > 0) Later(new PreloadReached(id));
        int what = _random.Next(12);
        DetectorState decision = what == 0 ? DetectorState.PartlyBroken : what == 1 ? DetectorState.SlippedOut : DetectorState.Broken;
        if (what == 2) Later(new ForceLimitPassed(id, 900), 4);
        else if (what == 3) Later(new PullTimeOver(id), 4);
        else if (what > 4) Later(new PullDecided(id, decision), 4);
        // A handle has no end of travel that is told: nothing but time ends a pull that nothing else does.
        if (_kind == WorldKind.TurnedByHand) Later(new PullTimeOver(id), 8);
    }

    /// <summary>Nothing starts on fingers: the specimen came by a feeder, a guard that opened and closed and an announced delay, or a
    /// person's word.</summary>
    private void RequireLoaded()
    {
        switch (_kind)
        {
            case WorldKind.Feeder:
                Assert.True(_fed, "a pull began that was not fed");
                break;
            case WorldKind.Guard:
                Assert.True(_guardOpened && _guardClosedAgain, "a pull began though the guard had not opened and closed again");
                Assert.True(_announcedSince, "a pull began unannounced");
                Assert.True(_rig.Facts.GuardClosed);
                break;
            default:
                Assert.True(_confirmed && _announcedSince, "a pull began that nobody confirmed");
                break;
        }

        _announcedSince = false;
    }

    private bool Unlucky() => MayInject && _random.NextDouble() < _faultShare;

    private void Later(SequenceEvent e, int after = 0) => _coming.Add((_now + 1 + after + _random.Next(2), e));
}
