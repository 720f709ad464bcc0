using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>What is shown of it all.</content>
internal sealed partial class ControlLoop
{
    /// <summary>How often a snapshot is made while only figures change, in wall time.</summary>
    public static readonly TimeSpan SnapshotInterval = TimeSpan.FromMilliseconds(50);

    private long _lastSnapshot;
    private long _snapshots;
    private bool _showAtOnce;

    private void ShowNow() => _showAtOnce = true;

    private void ShowWhenDue()
    {
        if (!_showAtOnce && _time.GetElapsedTime(_lastSnapshot) < SnapshotInterval) return;
        Show();
    }

    /// <summary>Makes a snapshot and shows it.</summary>
    public void Show()
    {
        _showAtOnce = false;
        _lastSnapshot = _time.GetTimestamp();
        _publish(MakeSnapshot());
    }

    private RigSnapshot MakeSnapshot()
    {
        DeviceState state = _session is { StateKnown: true } session ? session.State : default;
        double? position = _hello?.Capabilities.HasFlag(Capabilities.Position) == true ? PositionMillimetres : null;
        bool up = _session?.StateKnown == true;
        return new RigSnapshot
        {
            Number = ++_snapshots,
            Link = _linkStage,
            LinkMessage = _linkMessage,
            Device = Device,
            Hello = _hello,
            StartedBecause = _startedBecause,
            StartedBecauseWords = DeviceWords.Of(_startedBecause),
            Inputs = state.Inputs,
            Motion = state.Motion,
            Bits = _homed ? state.Flags : state.Flags & ~StateBits.Homed,
            Faults = state.Faults,
            FaultWords = DeviceWords.Of(state.Faults),
            ReasonsAgainstMotion = AgainstMotion(),
            ReasonsAgainstHandMotion = AgainstHandMotion(),
            PositionMillimetres = position,
            GripSeparationMillimetres = position + _options.GripSeparationAtHomeMillimetres,
            ForceNewtons = up ? _meanNewtons : null,
            Counts = up ? _meanCounts : null,
            ZeroCounts = _zeroCounts,
            Calibration = _calibration,
            SampleRateHertz = _periodNanoseconds > 0 ? 1e9 / _periodNanoseconds : null,
            SamplesLost = _session?.SamplesLost ?? 0,
            EventsLost = _session?.EventsLost ?? 0,
            SamplesReceived = _session?.SamplesReceived ?? 0,
            FramesBad = _pump?.FramesBad ?? 0,
            LinkNews = NewsOf(_pump?.Link.News ?? Links.LinkNews.None),
            Channels = up ? ChannelsNow() : [],
            LinksLost = _linksLost,
            DeviceRestarts = _restarts,
            LiveBlocksDropped = _live.BlocksDropped,
            StopLatency = _stopLatency,
            SampleToStop = _sampleToStop,
            SampleAge = up && _session?.SamplesReceived > 0 ? _session.Times.Age(_lastStamp) : null,
            ClockDeviationPartsPerMillion = up ? _session?.Times.DeviationPartsPerMillion : null,
            EmergencyStopTest = _stopTest,
            AsksForEmergencyStopTest = MotionInterlocks.AsksForEmergencyStopTest(Facts(_options.HandMotion, "", accepted: false, null)),
            Sequence = _sequence is { } sequence ? Of(sequence) : null,
            LastRun = _lastRun,
        };
    }

    private Links.LinkNews NewsOf(Links.LinkNews news) => _lineWords.Count == 0 ? news : news with { Words = [.. news.Words, .. _lineWords] };

    private IReadOnlyList<string> AgainstMotion()
    {
        if (_sequence is { Stage: not SequenceStage.Finished } sequence)
            return MotionInterlocks.ReasonsAgainstPulling(SequenceFacts(sequence.Plan));
        // Before a sequence is started, its cautions, its limits and what it accepts are still to come.
        return MotionInterlocks.ReasonsAgainstPulling(
            Facts(_options.HandMotion, "", accepted: false, null) with
            {
                CautionsAcknowledged = true,
                LimitsConfirmed = true,
                CalibrationCoversForceLimit = true,
                EmergencyStopTested = true,
            });
    }

    private IReadOnlyList<string> AgainstHandMotion() => SequenceRuns
        ? [RigText.SequenceIsRunning]
        : [.. MotionInterlocks.ReasonsAgainst(HandFacts() with { LimitsConfirmed = true }), .. CanRelease ? (string[])[RigText.HeldItLetsGo] : []];

    private SequenceSnapshot Of(SequenceState sequence) => new()
    {
        Plan = sequence.Plan,
        Stage = sequence.Stage,
        Reason = sequence.Reason,
        SpecimenId = sequence.Stage == SequenceStage.Finished ? null : sequence.Current.SpecimenId,
        RunId = sequence.RunId,
        Specimens = sequence.Specimens,
        PullAnnouncedFor = _announcedFor,
        NeedsConfirmation = sequence.Step is SequenceStep.AwaitingConfirmation,
        NeedsOpenGrip = sequence.Step is SequenceStep.AwaitingOpenGrip,
        ClampingForceNewtons = sequence.Turn.Clamp?.Newtons,
        RunningMaximumNewtons = _signal.Pull?.RunningMaximumNewtons,
    };
}
