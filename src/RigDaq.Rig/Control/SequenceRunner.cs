using Microsoft.Extensions.Logging;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>The sequence as it runs: what happens is fed to the sequencer, and what it decides is done.</summary>
internal sealed class SequenceRunner(LoopContext loop, DeviceView device, ActiveCalibration calibration, ZeroAndLimits zero,
    MotionConditions conditions, SignalWatch signal, PullRecording pull)
{
    /// <summary>How often a motion that was refused for want of a keep-alive is sent again.</summary>
    public const int KeepAliveTriesMax = 3;

    private readonly Queue<SequenceEvent> _raised = new();
    private readonly List<(long Since, TimeSpan Time, int Ticket)> _timers = [];
    private (int Ticket, ushort Number)? _motion;
    private SignalWindow? _window;
    private bool _working;

    /// <summary>What it is; null where none was started.</summary>
    public SequenceState? State { get; private set; }

    /// <summary>Whether one moves the crosshead by itself now.</summary>
    public bool Runs => State is { Stage: not (SequenceStage.Held or SequenceStage.Finished) };

    /// <summary>Whether one was started and is not finished.</summary>
    public bool IsUnfinished => State is { Stage: not SequenceStage.Finished };

    /// <summary>When the announced delay ends, in wall time; null where none runs.</summary>
    public DateTimeOffset? AnnouncedFor { get; private set; }

    /// <summary>Starts a sequence, or says why not.</summary>
    /// <param name="plan">What is asked for.</param>
    /// <param name="begins">Called where nothing stands against it, before it begins.</param>
    public CommandResult Start(SequencePlan plan, Action begins)
    {
        if (IsUnfinished) return CommandResult.Refused(RigText.AnotherSequence);
        if (pull.Current is not null) return CommandResult.Refused(RigText.StillBeingStored);
        var reasons = new List<Sentence>(PlanCheck.Problems(plan));
        if (reasons.Count == 0)
        {
            zero.ForgetLimitsOfSequence();
            InterlockFacts facts = conditions.OfSequence(plan);
            // An open guard is no obstacle to beginning: it is asked to be closed when the zero is taken. Limits follow the zero.
            reasons.AddRange(MotionInterlocks.ReasonsAgainstStarting(facts));
            if (calibration.Record is null && facts.CalibrationInForce is false && plan.AcceptBeyondCalibration)
                reasons.Add(RigText.CalibrateFirst);
            if (conditions.OfRig(facts).NeedsHoming) reasons.Add(RigText.HomeFirst);
        }

        if (reasons.Count > 0) return CommandResult.Refused(reasons);
        begins();
        double? start = plan.StartGripSeparationMillimetres - loop.Options.GripSeparationAtHomeMillimetres;
        zero.ForgetZero();
        bool pieceWasLeft = State is { Grips: GripKnowledge.MayBeJoined };
        State = Sequencer.Create(plan, conditions.OfRig(conditions.OfSequence(plan)), start, pieceWasLeft);
        loop.Log.LogInformation("Sequence {Id} of study {Study} begins with {Count} specimens.", plan.SequenceId, plan.StudyId,
            plan.SpecimenIds.Count);
        Raise(new Begun());
        return CommandResult.Ok(RigText.SequenceHasBegun(plan.SpecimenIds.Count));
    }

    /// <summary>What a person asks of the sequence, or why it cannot be.</summary>
    public CommandResult Request(SequenceRequest asked, Sentence done)
    {
        if (State is not { } before) return CommandResult.Refused(RigText.NoSequence);
        OnConditionsChanged();
        IReadOnlyList<Sentence> reasons = Sequencer.ReasonsAgainst(State ?? before, asked);
        if (reasons.Count > 0) return CommandResult.Refused(reasons);
        Raise(asked);
        pull.LeaveUnstored();
        return CommandResult.Ok(done);
    }

    /// <summary>Raises that the conditions have changed, where they have.</summary>
    public void OnConditionsChanged()
    {
        if (State is not { } sequence) return;
        RigConditions now = conditions.OfRig(conditions.OfSequence(sequence.Plan));
        if (!AreSame(now, sequence.Rig)) Raise(new ConditionsChanged(now));
    }

    /// <summary>Lets the sequencer decide; what is done may itself make something happen, which then waits its turn.</summary>
    public void Raise(SequenceEvent happened)
    {
        if (State is null) return;
        _raised.Enqueue(happened);
        if (_working) return;
        _working = true;
        try
        {
            while (_raised.TryDequeue(out SequenceEvent? next)) Decide(next);
        }
        finally
        {
            _working = false;
        }
    }

    /// <summary>The device is gone or another start: no motion is waited for.</summary>
    public void ForgetMotion() => _motion = null;

    /// <summary>A motion is over when two blocks that were closed after the device has taken it say that it stands: the samples of the
    /// first may be older than its state, and the position is read from them.</summary>
    public void WatchMotion(DeviceState before, DeviceState now)
    {
        if (_motion is not { } motion || now.Motion != MotionState.Still || before.Motion != MotionState.Still) return;
        if (unchecked((short)(before.LastCommand - motion.Number)) < 0 || before.BootNumber != now.BootNumber) return;
        _motion = null;
        Raise(new MotionEnded(motion.Ticket));
    }

    /// <summary>Raises what timers are over.</summary>
    public void CheckTimers()
    {
        for (int i = _timers.Count - 1; i >= 0; i--)
        {
            // What one raises may end others.
            if (i >= _timers.Count) continue;
            (long since, TimeSpan time, int ticket) = _timers[i];
            if (loop.Time.GetElapsedTime(since) < time) continue;
            _timers.RemoveAt(i);
            Raise(new TimerOver(ticket));
        }
    }

    private static bool AreSame(RigConditions a, RigConditions b) =>
        a with { Facts = b.Facts } == b && a.Facts with { FaultWords = b.Facts.FaultWords } == b.Facts
            && a.Facts.FaultWords.SequenceEqual(b.Facts.FaultWords);

    private void Decide(SequenceEvent happened)
    {
        if (State is not { } before) return;
        (SequenceState after, IReadOnlyList<SequenceCommand> commands) = Sequencer.Step(before, happened);
        State = after;
        if (after.ZerosTaken != before.ZerosTaken) zero.Take(after.Zero?.Reading);

        // A stop is on the line before anything else is done, and before anything is said.
        SequenceCommand? stop = commands.FirstOrDefault(c => c is MotionCommand or StopMotion) as StopMotion;
        if (stop is not null) Execute(stop);
        if (after.Ticket != before.Ticket) EnterStep(before, after);
        foreach (SequenceCommand command in commands)
        {
            if (!ReferenceEquals(command, stop)) Execute(command);
        }

        if (after.Ticket != before.Ticket || !after.Reason.Equals(before.Reason)) loop.PublishSoon();
    }

    private void EnterStep(SequenceState before, SequenceState after)
    {
        _timers.RemoveAll(t => t.Ticket != after.Ticket);
        signal.Relief = null;
        if (after.Step is SequenceStep.Held or SequenceStep.Finished or SequenceStep.TakingZero or SequenceStep.AwaitingOpenGrip)
            pull.EndPreRoll();
        AnnouncedFor = after.Step is SequenceStep.AnnouncedDelay ? loop.Time.GetUtcNow() + after.Plan.AnnouncedDelay : null;
        if (after.Stage == before.Stage) return;
        if (after.Stage == SequenceStage.Held) loop.Log.LogWarning("Sequence held: {Reason}", after.Reason);
        else loop.Log.LogInformation("Sequence: {Stage}. {Reason}", after.Stage.Word(), after.Reason);
    }

    private void Execute(SequenceCommand command)
    {
        switch (command)
        {
            case TakeZero c:
                OpenWindow(c.Seconds, seen => NoteZero(c, seen));
                break;
            case MeasureForce c:
                pull.BeginPreRoll();
                OpenWindow(c.Seconds, seen => Raise(
                    seen.IsStill ? new ForceMeasured(c.Ticket, zero.Newtons(seen.Mean) ?? 0) : new WindowRestless(c.Ticket, seen.Reason)));
                break;
            case MeasureZeroReturn c:
                OpenWindow(c.Seconds, seen => NoteZeroReturn(c, seen));
                break;
            case SetLimits c:
                SendLimits(c);
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
            case WatchRelief c:
                WatchRelief(c);
                break;
            case StopMotion c:
                SendStop(c.Ticket);
                break;
            case StartTimer c:
                _timers.Add((loop.Time.GetTimestamp(), c.Time, c.Ticket));
                break;
            case OpenCapture:
                pull.Open();
                break;
            case WatchPull c:
                pull.Watch(c);
                break;
            case EndPull c:
                pull.End(c);
                break;
            case RetryStore c:
                pull.StoreAgain(c);
                break;
            default:
                throw new InvalidOperationException($"Nobody here does {command}.");
        }
    }

    private void OpenWindow(double seconds, Action<Stillness> told)
    {
        if (_window is { } open) signal.Close(open);
        _window = new SignalWindow(seconds, told);
        signal.Open(_window);
    }

    private void NoteZero(TakeZero asked, Stillness seen)
    {
        if (!seen.IsStill)
        {
            Raise(new WindowRestless(asked.Ticket, seen.Reason));
            return;
        }

        double? shift = asked.BeforeCounts is { } before ? calibration.Curve?.Newtons(seen.Mean - before) : null;
        Raise(new ZeroTaken(asked.Ticket, seen.Mean, shift, seen.Deviation));
    }

    private void NoteZeroReturn(MeasureZeroReturn asked, Stillness seen)
    {
        if (seen.IsStill) pull.NoteZeroReturn(seen.Mean);
        Raise(seen.IsStill ? new ZeroReturned(asked.Ticket) : new WindowRestless(asked.Ticket, seen.Reason));
    }

    private void WatchRelief(WatchRelief asked)
    {
        if (calibration.Curve is { } curve && zero.Counts is { } counts)
            signal.Relief = new ReliefWatch(curve, counts, asked.BelowNewtons, () => Raise(new ForceRelieved(asked.Ticket)));
        else
            Raise(new MotionFailed(asked.Ticket, RigText.LimitsNeed));
    }

    private void SendLimits(SetLimits asked)
    {
        if (device.Session is not { Hello: { } hello } session || State is not { } sequence || calibration.Record is null)
        {
            Raise(new LimitsRefused(asked.Ticket, RigText.LimitsNeed));
            return;
        }

        (DeviceLimits? limits, Sentence problem) = zero.MakeOfSequence(hello, sequence, asked.For);
        if (limits is null)
        {
            Raise(new LimitsRefused(asked.Ticket, problem));
            return;
        }

        session.SetLimits(limits, refused =>
        {
            OnConditionsChanged();
            Raise(refused is null ? new LimitsSet(asked.Ticket) : new LimitsRefused(asked.Ticket, refused));
        });
    }

    /// <summary>The last look before a motion command goes out, with the facts of this very moment.</summary>
    private bool MotionStands(int ticket)
    {
        if (State is not { } sequence) return false;
        IReadOnlyList<Sentence> reasons = MotionInterlocks.ReasonsAgainst(conditions.OfSequence(sequence.Plan));
        if (reasons.Count == 0) return true;
        Raise(new MotionFailed(ticket, reasons.Joined()));
        return false;
    }

    private void SendMove(int ticket, double speedMillimetresPerSecond, double? targetMillimetres)
    {
        if (!MotionStands(ticket)) return;
        if (device.Session?.LimitsInForce is not { } limits || State is not { } sequence)
        {
            Raise(new MotionFailed(ticket, RigText.LimitsNotConfirmed));
            return;
        }

        double steps = device.StepsPerMillimetre ?? 1;
        int speed = (int)Math.Clamp(Math.Round(speedMillimetresPerSecond * steps), 1, limits.SpeedStepsPerSecondMax);
        uint acceleration = limits.Acceleration(sequence.Plan.Settings.AccelerationMillimetresPerSecondSquared * steps);
        // Inside the limits, so that the end of the travel is an ending and not a fault.
        int target = (int)Math.Round(Math.Clamp((targetMillimetres ?? 0) * steps, limits.TravelStepsMin, limits.TravelStepsMax));
        MoveKind kind = targetMillimetres is null ? MoveKind.Speed : MoveKind.Position;
        SendMotion(ticket, (now, answered) => now.Move(kind, speed, acceleration, target, answered));
    }

    /// <summary>
    /// Sends a motion behind a keep-alive: this loop may have been held up for longer than the device waits for one. Where the device still
    /// refuses it for want of a keep-alive nothing has moved, so it is sent again, a bounded number of times, instead of calling a person.
    /// </summary>
    private void SendMotion(int ticket, Action<IDeviceSession, Action<CommandOutcome>> send, int tries = 0)
    {
        if (device.Session is not { } session)
        {
            Raise(new MotionFailed(ticket, RigText.DeviceNotConnected));
            return;
        }

        device.Link.KeepAlive();
        send(session, outcome =>
        {
            bool isRefused = outcome is { Answered: true, Result: AnswerResult.NoKeepAlive };
            if (isRefused && tries < KeepAliveTriesMax && State?.MotionTicket == ticket)
            {
                OnConditionsChanged();
                if (State?.MotionTicket == ticket && MotionStands(ticket)) SendMotion(ticket, send, tries + 1);
            }
            else
            {
                NoteAnswer(ticket, outcome);
            }
        });
    }

    private void SendStop(int ticket)
    {
        if (device.Session is not { } session)
        {
            loop.Log.LogInformation("A stop could not be sent: there is no link. The device stops by itself for want of the keep-alive.");
            return;
        }

        session.Stop(atOnce: true, outcome => NoteAnswer(ticket, outcome));
        pull.NoteStopSent(session);
    }

    private void NoteAnswer(int ticket, CommandOutcome outcome)
    {
        if (outcome.Done)
        {
            _motion = (ticket, outcome.Number);
        }
        else if (outcome.Answered)
        {
            OnConditionsChanged();
            Raise(new MotionFailed(ticket, outcome.Words));
        }
    }
}
