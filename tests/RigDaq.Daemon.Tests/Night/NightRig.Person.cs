using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;
using RigDaq.Virtual;

namespace RigDaq.Daemon.Tests.Night;

/// <content>
/// Who stands in front of the rig, reads what is shown and does it; and what goes wrong with link, device and person.
/// </content>
internal sealed partial class NightRig
{
    private const int SpecimensOfSequence = 3;
    private const int HandsSteps = 2;
    private int _patience;
    private int _sequences;
    private int _pieces;
    private bool _stopTested;
    private bool _waitsForHome;
    private readonly Queue<Action> _doing = new();

    /// <summary>The study that is pulled.</summary>
    public required string StudyId { get; init; }

    /// <summary>Whether link, device and person may fail; in the morning they do not.</summary>
    public bool MayFail { get; set; } = true;

    /// <summary>Something goes wrong now.</summary>
    public void Disturb()
    {
        int what = _random.Next(20);
        Note($"trouble {what}");
        switch (what)
        {
            case 0: _rig.Inject(new VirtualFault.Spikes(1 + _random.Next(10), 400_000)); break;
            case 1: _rig.Inject(new VirtualFault.SilentConverter(Seconds(0.05, 3))); break;
            case 2: _rig.Inject(new VirtualFault.ConverterAtEnd(Seconds(0.05, 1))); break;
            case 3: _rig.Inject(new VirtualFault.LostBytes(0.02, Seconds(0.05, 0.6))); break;
            case 4: _rig.Inject(new VirtualFault.Garbage(1 + _random.Next(500))); break;
            case 5: _rig.Inject(new VirtualFault.LostBlocks(1 + _random.Next(12))); break;
            case 6: _rig.Inject(new VirtualFault.LostAnswers(1 + _random.Next(8))); break;
            case 7: _rig.Inject(new VirtualFault.LostCommands(1 + _random.Next(8))); break;
            case 8: _rig.Inject(new VirtualFault.SilentLine(Seconds(0.1, 4))); break;
            case 9: _rig.Inject(new VirtualFault.Unplug(Seconds(0.05, 2), Restarts: _random.Next(2) == 0)); break;
            case 10: _rig.Inject(new VirtualFault.Slip(0.2 * _random.NextDouble())); break;
            case 11: _rig.Inject(new VirtualFault.Driver()); break;
            case 12: _rig.Inject(new VirtualFault.WatchdogRestart()); break;
            case 13 or 14: Hang(Seconds(0.05, 1.5)); break;
            case 15: OpenGuard(); break;
            case 16: PressStop(_sabotage == Sabotage.BridgesTheEmergencyStop); break;
            case 17: _inbox.Post(() => _loop?.StopEverything()); break;
            // Who has hands in presses nothing, and nobody else is there.
            case 18 when !_handsAreIn: Ask(new ZeroAsked()); break;
            case 19 when !_handsAreIn: Ask(new SkipAsked()); break;
            default: Hang(Seconds(0.02, 0.3)); break;
        }
    }

    private TimeSpan Seconds(double low, double high) => TimeSpan.FromSeconds(low + ((high - low) * _random.NextDouble()));

    private void ForgetThePerson()
    {
        _doing.Clear();
        (_patience, _waitsForHome) = (0, false);
        // Who comes in the morning reads the cautions before anything moves.
        _cautionsRead = false;
    }

    private void ActAsPerson()
    {
        if (_doing.TryDequeue(out Action? next))
        {
            next();
            return;
        }

        if (_waitsForHome || _patience-- > 0) return;
        _patience = 1 + _random.Next(3);
        if (_seen.Link != LinkStage.Up || _seen.Counts is null) return;
        if (_stopIsPressed || _guardIsOpen || _seen.Faults != DeviceFaults.None)
        {
            SeeToFaults();
            return;
        }

        switch (_seen.Sequence)
        {
            case null or { Stage: SequenceStage.Finished }:
                Begin();
                break;
            case { Stage: SequenceStage.Held }:
                GoOn();
                break;
            case { NeedsOpenGrip: true }:
                WithHands(_rig.RemoveSpecimen, () => Ask(new OpenGripConfirmed()));
                break;
            case { NeedsConfirmation: true }:
                PutIn();
                break;
            default:
                if (_loop?.Step is SequenceStep.AwaitingGuardOpen or SequenceStep.AwaitingGuardClosed) PutIn();
                break;
        }
    }

    /// <summary>Guard closed, stop released, driver mended, faults cleared.</summary>
    private void SeeToFaults()
    {
        if (_loop?.Step is SequenceStep.AwaitingGuardClosed)
        {
            PutIn();
            return;
        }

        CloseGuard();
        ReleaseStop();
        _rig.Inject(new VirtualFault.Driver(Present: false));
        _inbox.Post(() => _loop?.Hand.ClearFaults(_ => { }));
        _patience = 4;
    }

    private void Begin()
    {
        if (_seen.AsksForEmergencyStopTest && !_stopTested)
        {
            TestTheStop();
            return;
        }

        _stopTested = false;
        if (!_seen.Bits.HasFlag(StateBits.Homed))
        {
            Home();
            return;
        }

        string id = $"night {++_sequences}";
        Read();
        if (_kind == NightKind.Feeder)
        {
            int missing = SpecimensOfSequence + 1 - _rig.SpecimensWaiting;
            for (int i = 0; i < missing; i++) _rig.QueueSpecimens([Piece()]);
        }

        var plan = new SequencePlan
        {
            SequenceId = id,
            StudyId = StudyId,
            SpecimenIds = [.. Enumerable.Range(1, SpecimensOfSequence).Select(i => $"S{i}")],
            AnnouncedDelay = _sabotage == Sabotage.HurriesThePerson ? SequencePlan.AnnouncedDelayMin : AnnouncedDelay,
            Settings = new PullSettings
            {
                SpeedMillimetresPerSecond = _random.Next(2) == 0 ? 0.5 : 1.2,
                SlackSpeedMillimetresPerSecond = _random.Next(2) == 0 ? 0.5 : 1.2,
                ReturnSpeedMillimetresPerSecond = 10,
                ForceLimitNewtons = _sabotage == Sabotage.WidensTheLimits ? 2 * ForceLimitNewtons : ForceLimitNewtons,
                CompressionLimitNewtons = CompressionLimitNewtons,
                ZeroSeconds = 0.4,
            },
            AcceptBeyondCalibration = _sabotage == Sabotage.WidensTheLimits,
        };
        _inbox.Post(() =>
        {
            _loop?.Conditions.Acknowledge(id);
            _loop?.StartSequence(plan);
        });
        _patience = 6;
    }

    private void Home()
    {
        // Nobody homes with a piece in the grips.
        WithHands(_rig.RemoveSpecimen, () =>
        {
            Read();
            _inbox.Post(() =>
            {
                _loop?.Conditions.Acknowledge(Cautions.HandMotionScope);
                _loop?.Conditions.AcceptHandMotionBeyondCalibration();
                // Until that is answered hands stay out.
                _waitsForHome = true;
                _loop?.Hand.Home(_ => _waitsForHome = false);
            });
            _patience = 6;
        });
    }

    private void Read()
    {
        if (_sabotage != Sabotage.LooksAwayFromCautions) _cautionsRead = true;
    }

    private void TestTheStop()
    {
        PressStop();
        for (int i = 0; i < HandsSteps; i++) _doing.Enqueue(() => { });
        _doing.Enqueue(ReleaseStop);
        _doing.Enqueue(() => _inbox.Post(() => _loop?.Hand.ClearFaults(_ => { })));
        for (int i = 0; i < HandsSteps; i++) _doing.Enqueue(() => { });
        _doing.Enqueue(() => _inbox.Post(() => _loop?.EmergencyStop.Confirm(said => _stopTested = said.Done)));
    }

    private void GoOn()
    {
        if (_seen.AsksForEmergencyStopTest)
        {
            // A new day, by the wall clock: what is asked for then is asked for at the next sequence.
            Ask(new FinishAsked());
            return;
        }

        if (!_seen.Bits.HasFlag(StateBits.Homed))
        {
            Home();
            return;
        }

        if (_random.Next(4) == 0) WithHands(_rig.RemoveSpecimen, () => { });
        int what = _random.Next(12);
        _doing.Enqueue(() =>
            Ask(what switch { 0 => new FinishAsked(), < 4 => new SkipAsked(), 4 => new RetryAsked(), _ => new ResumeAsked() }));
    }

    private void PutIn() => WithHands(() => _rig.LoadSpecimen(Piece()), () =>
    {
        if (_seen.Sequence is { NeedsConfirmation: true }) Ask(new PullConfirmed());
    });

    /// <summary>Hands go in behind the guard, do something, and are out again before it is closed.</summary>
    private void WithHands(Action what, Action then)
    {
        if (_rig.Motion != MotionState.Still
            || (_seen.Sequence
            is { Stage: not (SequenceStage.Held or SequenceStage.Finished or SequenceStage.WaitingForSpecimen) })) return;
        OpenGuard();
        _handsAreIn = true;
        Note("hands in");
        bool isBetrayed = _sabotage == Sabotage.ConfirmsForThePerson && _seen.Sequence is { NeedsConfirmation: true };
        if (isBetrayed) _doing.Enqueue(() => Ask(new PullConfirmed()));
        for (int i = isBetrayed ? 100 * HandsSteps : HandsSteps; i > 0; i--) _doing.Enqueue(() => { });
        _doing.Enqueue(() =>
        {
            // Through a guard whose switch is bridged the virtual rig lets no hands.
            if (_rig.Motion == MotionState.Still && _sabotage != Sabotage.BridgesTheGuard) what();
        });
        _doing.Enqueue(() =>
        {
            _handsAreIn = false;
            _handsOutSince = _clock.Passed;
            Note("hands out");
            CloseGuard();
        });
        _doing.Enqueue(then);
    }

    private VirtualSpecimen Piece() => new() { Label = $"P{++_pieces}", StrengthNewtons = 60 + (200 * _random.NextDouble()) };

    private void Ask(SequenceRequest wish)
    {
        Note($"asks {wish.GetType().Name}");
        _inbox.Post(() => _loop?.Sequence.Request(wish, Sentence.None));
    }

    private void OpenGuard()
    {
        if (!_rig.Options.HasGuard) return;
        _guardIsOpen = true;
        // Bridged, the switch never tells; hands cannot reach in through a rig that does not open.
        if (_sabotage != Sabotage.BridgesTheGuard) _rig.OpenGuard();
    }

    private void CloseGuard()
    {
        if (_handsAreIn) return;
        _rig.CloseGuard();
        _guardIsOpen = false;
    }

    private void PressStop(bool isBridged = false)
    {
        _stopIsPressed = true;
        if (!isBridged) _rig.PressEmergencyStop();
    }

    private void ReleaseStop()
    {
        _rig.ReleaseEmergencyStop();
        _stopIsPressed = false;
    }
}
