using Microsoft.Extensions.Logging;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>Feeds the sequencer with what happens and does what it decides.</content>
internal sealed partial class ControlLoop
{
    private readonly Queue<SequenceEvent> _happened = new();
    private readonly List<(long Since, TimeSpan Time, int Ticket)> _timers = [];
    private SequenceState? _sequence;
    private (DeviceLimits Limits, LimitsBasis For)? _sequenceLimits;
    private (int Ticket, ushort Number)? _motion;
    private DateTimeOffset? _announcedFor;
    private long _decidedAt;
    private long? _decidedStamp;
    private TimeSpan? _stopLatency;
    private TimeSpan? _sampleToStop;
    private bool _working;

    private bool SequenceRuns => _sequence is { Stage: not (SequenceStage.Held or SequenceStage.Finished) };

    /// <summary>Starts a sequence, or says why not.</summary>
    public CommandResult StartSequence(SequencePlan plan)
    {
        if (_sequence is { Stage: not SequenceStage.Finished }) return CommandResult.Refused(RigText.AnotherSequence);
        if (_pull is not null) return CommandResult.Refused(RigText.StillBeingStored);
        var reasons = new List<string>(PlanCheck.Problems(plan));
        if (reasons.Count == 0)
        {
            _sequenceLimits = null;
            InterlockFacts facts = SequenceFacts(plan);
            // An open guard is no obstacle to beginning: it is asked to be closed when the zero is taken. Limits follow the zero.
            reasons.AddRange(MotionInterlocks.ReasonsAgainstStarting(facts));
            if (_calibration is null && facts.CalibrationInForce is false && plan.AcceptBeyondCalibration)
                reasons.Add(RigText.CalibrateFirst);
            if (Conditions(facts).NeedsHoming) reasons.Add(RigText.HomeFirst);
        }

        if (reasons.Count > 0) return CommandResult.Refused(reasons);
        StopJog();
        double? start = plan.StartGripSeparationMillimetres - _options.GripSeparationAtHomeMillimetres;
        _zeroCounts = null;
        bool pieceWasLeft = _sequence is { Grips: GripKnowledge.MayBeJoined };
        _sequence = Sequencer.Create(plan, Conditions(SequenceFacts(plan)), start, pieceWasLeft);
        _log.LogInformation("Sequence {Id} of study {Study} begins with {Count} specimens.", plan.SequenceId, plan.StudyId, plan.SpecimenIds.Count);
        Happen(new Begun());
        return CommandResult.Ok(RigText.SequenceHasBegun(plan.SpecimenIds.Count));
    }

    /// <summary>A person's wish, or why it cannot be met.</summary>
    public CommandResult Wish(SequenceRequest wish, string done)
    {
        if (_sequence is not { } sequence) return CommandResult.Refused(RigText.NoSequence);
        NoticeConditions();
        IReadOnlyList<string> reasons = Sequencer.ReasonsAgainst(_sequence ?? sequence, wish);
        if (reasons.Count > 0) return CommandResult.Refused(reasons);
        Happen(wish);
        LeaveUnstored();
        return CommandResult.Ok(done);
    }

    private void NoticeConditions()
    {
        if (_sequence is not { } sequence) return;
        RigConditions now = Conditions(SequenceFacts(sequence.Plan));
        if (!SameConditions(now, sequence.Rig)) Happen(new ConditionsChanged(now));
    }

    private static bool SameConditions(RigConditions a, RigConditions b) =>
        a with { Facts = b.Facts } == b && a.Facts with { FaultWords = b.Facts.FaultWords } == b.Facts && a.Facts.FaultWords.SequenceEqual(b.Facts.FaultWords);

    /// <summary>Lets the sequencer decide; what is done may itself make something happen, which then waits its turn.</summary>
    private void Happen(SequenceEvent happened)
    {
        if (_sequence is null) return;
        _happened.Enqueue(happened);
        if (_working) return;
        _working = true;
        try
        {
            while (_happened.TryDequeue(out SequenceEvent? next)) Decide(next);
        }
        finally
        {
            _working = false;
        }
    }

    private void Decide(SequenceEvent happened)
    {
        if (_sequence is not { } before) return;
        (SequenceState after, IReadOnlyList<SequenceCommand> commands) = Sequencer.Step(before, happened);
        _sequence = after;
        if (after.ZerosTaken != before.ZerosTaken)
        {
            _zeroCounts = after.Zero?.Reading.Counts;
            _zeroDeviation = after.Zero?.Reading.DeviationCounts ?? 0;
            _zeroTakenAt = _time.GetTimestamp();
        }

        // A stop is on the line before anything else is done, and before anything is said.
        SequenceCommand? stop = commands.FirstOrDefault(c => c is MotionCommand or StopMotion) as StopMotion;
        if (stop is not null) Execute(stop);
        if (after.Ticket != before.Ticket) EnterStep(before, after);
        foreach (SequenceCommand command in commands)
        {
            if (!ReferenceEquals(command, stop)) Execute(command);
        }

        if (after.Ticket != before.Ticket || after.Reason != before.Reason) ShowNow();
    }

    private void EnterStep(SequenceState before, SequenceState after)
    {
        _timers.RemoveAll(t => t.Ticket != after.Ticket);
        _signal.Relief = null;
        if (after.Step is SequenceStep.Held or SequenceStep.Finished or SequenceStep.TakingZero or SequenceStep.AwaitingOpenGrip)
        {
            _preRollWanted = false;
            _preRoll.Clear();
        }

        _announcedFor = after.Step is SequenceStep.AnnouncedDelay ? _time.GetUtcNow() + after.Plan.AnnouncedDelay : null;
        if (after.Stage == before.Stage) return;
        if (after.Stage == SequenceStage.Held) _log.LogWarning("Sequence held: {Reason}", after.Reason);
        else _log.LogInformation("Sequence: {Stage}. {Reason}", after.Stage.Word(), after.Reason);
    }

    private void Execute(SequenceCommand command)
    {
        switch (command)
        {
            case TakeZero c:
                OpenWindow(c.Seconds, s => ZeroSeen(c, s));
                break;
            case MeasureForce c:
                _preRoll.Clear();
                _preRollWanted = true;
                OpenWindow(c.Seconds, s => Happen(s.IsStill ? new ForceMeasured(c.Ticket, NewtonsOf(s.Mean)) : new WindowRestless(c.Ticket, s.Reason)));
                break;
            case MeasureZeroReturn c:
                OpenWindow(c.Seconds, s => ZeroReturnSeen(c, s));
                break;
            case SetLimits c:
                SetSequenceLimits(c);
                break;
            case MoveTo c:
                SendMove(c.Ticket, c.SpeedMillimetresPerSecond, c.Millimetres);
                break;
            case MoveApart c:
                SendMove(c.Ticket, c.SpeedMillimetresPerSecond, null);
                break;
            case FeedSpecimen c:
                if (MotionStands(c.Ticket)) SendMotion(c.Ticket, (session, answered) => session.Feed(answered));
                break;
            case WatchRelief c when _calibration is { } calibration && _zeroCounts is { } zero:
                _signal.Relief = new ReliefWatch(calibration.Curve, zero, c.BelowNewtons, () => Happen(new ForceRelieved(c.Ticket)));
                break;
            case StopMotion c:
                SendStop(c.Ticket);
                break;
            case StartTimer c:
                _timers.Add((_time.GetTimestamp(), c.Time, c.Ticket));
                break;
            default:
                ExecutePull(command);
                break;
        }
    }

    private void OpenWindow(double seconds, Action<Stillness> told)
    {
        if (_window is { } open) _signal.Close(open);
        _window = new SignalWindow(seconds, told);
        _signal.Open(_window);
    }

    private SignalWindow? _window;

    private void ZeroSeen(TakeZero asked, Stillness seen)
    {
        if (!seen.IsStill)
        {
            Happen(new WindowRestless(asked.Ticket, seen.Reason));
            return;
        }

        double? shift = asked.BeforeCounts is { } before && _calibration is { } calibration ? calibration.Curve.Newtons(seen.Mean - before) : null;
        Happen(new ZeroTaken(asked.Ticket, seen.Mean, shift, seen.Deviation));
    }

    private double _zeroDeviation;
    private long _zeroTakenAt;

    private double NewtonsOf(double counts) => _calibration is { } calibration && _zeroCounts is { } zero ? calibration.Curve.Newtons(counts - zero) : 0;

    private void SetSequenceLimits(SetLimits asked)
    {
        if (_session is not { Hello: { } hello } session || _sequence is not { } sequence || _calibration is not { } calibration)
        {
            Happen(new LimitsRefused(asked.Ticket, RigText.LimitsNeed));
            return;
        }

        double start = sequence.StartMillimetres ?? PositionMillimetres ?? 0;
        double here = PositionMillimetres ?? start;
        (double, double)? travel = sequence.Rig.PositionMillimetres is null ? null
            : (Math.Min(start, here) - SequenceLimits.ReliefTravelMillimetres, Math.Max(start + sequence.Plan.Settings.TravelLimitMillimetres, here));
        (DeviceLimits? limits, string words) = LimitsMaker.Make(
            hello, sequence.Plan.Settings, (calibration.Curve, asked.For.ZeroCounts), travel, _options.StiffnessNewtonsPerMillimetre, _options.ConverterDelaySeconds);
        if (limits is null)
        {
            Happen(new LimitsRefused(asked.Ticket, words));
            return;
        }

        _sequenceLimits = (limits, asked.For);
        session.SetLimits(limits, refused =>
        {
            NoticeConditions();
            Happen(refused is null ? new LimitsSet(asked.Ticket) : new LimitsRefused(asked.Ticket, refused));
        });
    }

    /// <summary>The last look before a motion command goes out, with the facts of this very moment.</summary>
    private bool MotionStands(int ticket)
    {
        if (_sequence is not { } sequence) return false;
        IReadOnlyList<string> reasons = MotionInterlocks.ReasonsAgainst(SequenceFacts(sequence.Plan));
        if (reasons.Count == 0) return true;
        Happen(new MotionFailed(ticket, string.Join(" ", reasons)));
        return false;
    }

    private void SendMove(int ticket, double speedMillimetresPerSecond, double? targetMillimetres)
    {
        if (!MotionStands(ticket) || _session is not { LimitsInForce: { } limits } session || _sequence is not { } sequence) return;
        double steps = StepsPerMillimetre ?? 1;
        int speed = (int)Math.Clamp(Math.Round(speedMillimetresPerSecond * steps), 1, limits.SpeedStepsPerSecondMax);
        uint acceleration = Acceleration(sequence.Plan.Settings.AccelerationMillimetresPerSecondSquared, steps, limits);
        // Inside the limits, so that the end of the travel is an ending and not a fault.
        int target = (int)Math.Round(Math.Clamp((targetMillimetres ?? 0) * steps, limits.TravelStepsMin, limits.TravelStepsMax));
        MoveKind kind = targetMillimetres is null ? MoveKind.Speed : MoveKind.Position;
        SendMotion(ticket, (now, answered) => now.Move(kind, speed, acceleration, target, answered));
    }

    /// <summary>
    /// Sends a motion behind a keep-alive: this loop may have been held up for longer than the device waits for one. Where the device still refuses it
    /// for want of a keep-alive nothing has moved, so it is sent again, a bounded number of times, instead of calling a person.
    /// </summary>
    private void SendMotion(int ticket, Action<DeviceSession, Action<CommandOutcome>> send, int tries = 0)
    {
        if (_session is not { } session) return;
        KeepAlive(session);
        send(session, outcome =>
        {
            bool isRefused = outcome is { Answered: true, Result: AnswerResult.NoKeepAlive };
            if (isRefused && tries < KeepAliveTriesMax && _sequence?.MotionTicket == ticket)
            {
                NoticeConditions();
                if (_sequence?.MotionTicket == ticket && MotionStands(ticket)) SendMotion(ticket, send, tries + 1);
            }
            else
            {
                MotionAnswered(ticket, outcome);
            }
        });
    }

    private static uint Acceleration(double millimetresPerSecondSquared, double stepsPerMillimetre, DeviceLimits limits) =>
        (uint)Math.Clamp(Math.Round(millimetresPerSecondSquared * stepsPerMillimetre), 1, limits.AccelerationStepsPerSecondSquaredMax);

    private void SendStop(int ticket)
    {
        if (_session is not { } session) return;
        session.Stop(atOnce: true, outcome => MotionAnswered(ticket, outcome));
        if (_decidedAt == 0) return;
        _stopLatency = _time.GetElapsedTime(_decidedAt);
        _sampleToStop = _decidedStamp is { } stamp ? session.Times.Age(stamp) : null;
        _decidedAt = 0;
    }

    private void MotionAnswered(int ticket, CommandOutcome outcome)
    {
        if (outcome.Done)
        {
            _motion = (ticket, outcome.Number);
        }
        else if (outcome.Answered)
        {
            NoticeConditions();
            Happen(new MotionFailed(ticket, outcome.Words));
        }
    }

    /// <summary>
    /// A motion is over when two blocks that were closed after the device has taken it say that it stands: the samples of the
    /// first may be older than its state, and the position is read from them.
    /// </summary>
    private void NoticeMotion(DeviceState before, DeviceState now)
    {
        if (_motion is not { } motion || now.Motion != MotionState.Still || before.Motion != MotionState.Still) return;
        if (unchecked((short)(before.LastCommand - motion.Number)) < 0 || before.BootNumber != now.BootNumber) return;
        _motion = null;
        Happen(new MotionEnded(motion.Ticket));
    }

    private void CheckTimers()
    {
        for (int i = _timers.Count - 1; i >= 0; i--)
        {
            if (i >= _timers.Count) continue;
            (long since, TimeSpan time, int ticket) = _timers[i];
            if (_time.GetElapsedTime(since) < time) continue;
            _timers.RemoveAt(i);
            Happen(new TimerOver(ticket));
        }
    }
}
