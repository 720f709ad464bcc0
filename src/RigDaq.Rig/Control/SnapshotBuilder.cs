using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>Makes the snapshot that people see from where each thing is known.</summary>
internal sealed class SnapshotBuilder
{
    private long _made;

    public required LoopContext Loop { get; init; }

    public required DeviceView Device { get; init; }

    public required SampleStream Stream { get; init; }

    public required ActiveCalibration Calibration { get; init; }

    public required ZeroAndLimits Zero { get; init; }

    public required EmergencyStopCheck EmergencyStop { get; init; }

    public required MotionConditions Conditions { get; init; }

    public required SequenceRunner Sequence { get; init; }

    public required PullRecording Pull { get; init; }

    public required HandMotion Hand { get; init; }

    public required SignalWatch Signal { get; init; }

    public required LiveFanOut Live { get; init; }

    /// <summary>What is to be seen now.</summary>
    public RigSnapshot Make()
    {
        DeviceLink link = Device.Link;
        IDeviceSession? session = link.Session;
        DeviceState state = link.State;
        bool up = link.IsStateKnown;
        double? position = Device.Hello?.Capabilities.HasFlag(Capabilities.Position) == true ? Device.PositionMillimetres : null;
        return new RigSnapshot
        {
            Number = ++_made,
            Link = link.Stage,
            LinkMessage = link.Message,
            Device = Device.Device,
            Hello = Device.Hello,
            StartedBecause = Device.StartedBecause,
            StartedBecauseWords = DeviceWords.Of(Device.StartedBecause),
            Inputs = state.Inputs,
            Motion = state.Motion,
            Bits = Device.IsHomed ? state.Flags : state.Flags & ~StateBits.Homed,
            Faults = state.Faults,
            FaultWords = DeviceWords.Of(state.Faults),
            ReasonsAgainstMotion = AgainstMotion(),
            ReasonsAgainstHandMotion = AgainstHandMotion(),
            PositionMillimetres = position,
            GripSeparationMillimetres = position + Loop.Options.GripSeparationAtHomeMillimetres,
            ForceNewtons = up ? Device.MeanNewtons : null,
            Counts = up ? Device.MeanCounts : null,
            ZeroCounts = Zero.Counts,
            Calibration = Calibration.Record,
            SampleRateHertz = Device.SampleRateHertz,
            SamplesLost = session?.SamplesLost ?? 0,
            EventsLost = session?.EventsLost ?? 0,
            SamplesReceived = session?.SamplesReceived ?? 0,
            FramesBad = link.Pump?.FramesBad ?? 0,
            LinkNews = NewsOf(session?.News ?? LinkNews.None),
            Channels = up ? Stream.Now : [],
            LinksLost = link.Lost,
            DeviceRestarts = Device.Restarts,
            KeepAliveGapMax = link.KeepAliveGapMax,
            InboxWaiting = Loop.InboxWaiting,
            LiveBlocksDropped = Live.BlocksDropped,
            StopLatency = Pull.StopLatency,
            SampleToStop = Pull.SampleToStop,
            SampleAge = up && session?.SamplesReceived > 0 ? session.Times.Age(Device.LastStamp) : null,
            ClockDeviationPartsPerMillion = up ? session?.Times.DeviationPartsPerMillion : null,
            EmergencyStopTest = EmergencyStop.Test,
            AsksForEmergencyStopTest = MotionInterlocks.AsksForEmergencyStopTest(Conditions.OfPull(Loop.Options.HandMotion)),
            Sequence = Sequence.State is { } sequence ? Of(sequence) : null,
            LastRun = Pull.LastRun,
        };
    }

    private LinkNews NewsOf(LinkNews news) => Stream.Words.Count == 0 ? news : news with { Words = [.. news.Words, .. Stream.Words] };

    private IReadOnlyList<Sentence> AgainstMotion()
    {
        if (Sequence is { IsUnfinished: true, State: { } sequence }) return
            MotionInterlocks.ReasonsAgainstPulling(Conditions.OfSequence(sequence.Plan));
        // Before a sequence is started, its cautions, its limits and what it accepts are still to come.
        return MotionInterlocks.ReasonsAgainstPulling(
            Conditions.OfPull(Loop.Options.HandMotion) with
            {
                CautionsAcknowledged = true,
                LimitsConfirmed = true,
                CalibrationCoversForceLimit = true,
                EmergencyStopTested = true,
            });
    }

    private IReadOnlyList<Sentence> AgainstHandMotion() => Sequence.Runs
        ? [RigText.SequenceIsRunning]
        : [.. MotionInterlocks.ReasonsAgainst(Conditions.OfHand() with { LimitsConfirmed = true, CautionsAcknowledged = true }),
            .. Hand.CanRelease ? (Sentence[])[RigText.HeldItLetsGo] : []];

    private SequenceSnapshot Of(SequenceState sequence) => new()
    {
        Plan = sequence.Plan,
        Stage = sequence.Stage,
        Reason = sequence.Reason,
        SpecimenId = sequence.Stage == SequenceStage.Finished ? null : sequence.Current.SpecimenId,
        RunId = sequence.RunId,
        Specimens = sequence.Specimens,
        PullAnnouncedFor = Sequence.AnnouncedFor,
        NeedsConfirmation = sequence.Step is SequenceStep.AwaitingConfirmation,
        NeedsOpenGrip = sequence.Step is SequenceStep.AwaitingOpenGrip,
        ClampingForceNewtons = sequence.Turn.Clamp?.Newtons,
        RunningMaximumNewtons = Signal.Pull?.RunningMaximumNewtons,
    };
}
