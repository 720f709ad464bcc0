using RigDaq.App.Access;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Uncertainty;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.Web.Views;

/// <summary>A snapshot in the page's form. Members are what docs/dashboard.md's page shows; nothing here is kept.</summary>
internal sealed record StateView
{
    public string Type { get; } = "state";

    public required long Number { get; init; }

    /// <summary>"up", "greeting", "opening" or "closed".</summary>
    public required string Link { get; init; }

    public required string LinkMessage { get; init; }

    /// <summary>What the link has to tell besides: lines that were dropped, how well stamps made here are known.</summary>
    public required IReadOnlyList<string> LinkNotes { get; init; }

    public required DeviceView? Device { get; init; }

    /// <summary>Why the device started, in words; empty where it is not known.</summary>
    public string StartedBecause { get; init; } = "";

    /// <summary>Null where the device has no such input.</summary>
    public required bool? GuardClosed { get; init; }

    public required bool? EmergencyStopReleased { get; init; }

    /// <summary>Whether the emergency stop is to be tested before a sequence.</summary>
    public bool AsksForEmergencyStopTest { get; init; }

    /// <summary>When it was last said to be tested, in Unix milliseconds; null before any.</summary>
    public long? EmergencyStopTestedAt { get; init; }

    public required bool LowerLimit { get; init; }

    public required bool UpperLimit { get; init; }

    /// <summary>"still", "moving", "stopping", "homing" or "feeding".</summary>
    public required string Motion { get; init; }

    public required bool Homed { get; init; }

    public required IReadOnlyList<string> Faults { get; init; }

    public required IReadOnlyList<string> ReasonsAgainstHandMotion { get; init; }

    /// <summary>Of the reasons, one each, for programs.</summary>
    public required IReadOnlyList<string> CodesAgainstHandMotion { get; init; }

    public required double? PositionMillimetres { get; init; }

    public required double? GripSeparationMillimetres { get; init; }

    public required double? ForceNewtons { get; init; }

    public required double? Counts { get; init; }

    public required CalibrationInForce? Calibration { get; init; }

    public required double? SampleRateHertz { get; init; }

    public required long SamplesLost { get; init; }

    public required long FramesBad { get; init; }

    public required long LinksLost { get; init; }

    public required double? StopLatencyMilliseconds { get; init; }

    /// <summary>How old the newest sample was when this was made, by the device's stamps.</summary>
    public double? SampleAgeMilliseconds { get; init; }

    public double? SampleToStopMilliseconds { get; init; }

    /// <summary>What is wrong with the database, and what to do; null for nothing.</summary>
    public string? DataTrouble { get; init; }

    /// <summary>What somebody elsewhere wants to move, and who stands at the rig is to allow or refuse.</summary>
    public IReadOnlyList<MotionAsked> MotionAsked { get; init; } = [];

    /// <summary>What is measured besides the force, and what it is now, in the unit named.</summary>
    public IReadOnlyList<ChannelView> Channels { get; init; } = [];

    public required SequenceView? Sequence { get; init; }

    public required RunView? LastRun { get; init; }

    internal static StateView From(RigSnapshot s, DateTimeOffset now, Units? units = null, Sentence? checkWeight = null)
    {
        units ??= Units.Si;
        Capabilities can = s.Hello?.Capabilities ?? Capabilities.None;
        return new StateView
        {
            Number = s.Number,
            Link = s.Link switch { LinkStage.Up => "up", LinkStage.Greeting => "greeting", LinkStage.Opening => "opening", _ => "closed" },
            LinkMessage = s.LinkMessage.In(units),
            LinkNotes = s.LinkNews.Words.In(units),
            Device = s.Device is { } d ? new DeviceView(d.Name, d.Id, d.FirmwareVersion, d.Simulated, can.HasFlag(Capabilities.Motion),
                can.HasFlag(Capabilities.Homing), can.HasFlag(Capabilities.Feeder)) : null,
            StartedBecause = s.StartedBecauseWords.In(units),
            GuardClosed = can.HasFlag(Capabilities.Guard) ? s.Inputs.HasFlag(InputStates.GuardClosed) : null,
            EmergencyStopReleased = can.HasFlag(Capabilities.EmergencyStop) ? s.Inputs.HasFlag(InputStates.EmergencyStopReleased) : null,
            AsksForEmergencyStopTest = s.AsksForEmergencyStopTest,
            EmergencyStopTestedAt = s.EmergencyStopTest?.At.ToUnixTimeMilliseconds(),
            LowerLimit = s.Inputs.HasFlag(InputStates.LowerLimit),
            UpperLimit = s.Inputs.HasFlag(InputStates.UpperLimit),
            Motion = s.Motion switch
            {
                MotionState.Still => "still",
                MotionState.Stopping => "stopping",
                MotionState.Homing => "homing",
                MotionState.Feeding => "feeding",
                _ => "moving",
            },
            Homed = s.Bits.HasFlag(StateBits.Homed),
            Faults = s.FaultWords.In(units),
            ReasonsAgainstHandMotion = s.ReasonsAgainstHandMotion.In(units),
            CodesAgainstHandMotion = [.. s.ReasonsAgainstHandMotion.Select(reason => reason.Code)],
            PositionMillimetres = Finite(s.PositionMillimetres),
            GripSeparationMillimetres = Finite(s.GripSeparationMillimetres),
            ForceNewtons = Finite(s.ForceNewtons),
            Counts = Finite(s.Counts),
            Calibration = s.Calibration is { } c ? new CalibrationInForce(c.GreatestReferenceNewtons, c.ValidUntil,
                c.Figures?.Class is { } given ? given.Sentence.In(units) : null, checkWeight?.In(units)) : null,
            SampleRateHertz = Finite(s.SampleRateHertz),
            SamplesLost = s.SamplesLost,
            FramesBad = s.FramesBad,
            LinksLost = s.LinksLost,
            StopLatencyMilliseconds = s.StopLatency?.TotalMilliseconds,
            SampleAgeMilliseconds = s.SampleAge?.TotalMilliseconds,
            SampleToStopMilliseconds = s.SampleToStop?.TotalMilliseconds,
            Channels = [.. s.Channels.Select(channel => ChannelView.Of(channel))],
            Sequence = s.Sequence is { } q ? SequenceView.From(q, now, units) : null,
            LastRun = s.LastRun is { } r ? RunView.From(r, units) : null,
        };
    }

    internal static double? Finite(double? value) => value is { } v && double.IsFinite(v) ? v : null;
}

/// <summary>A channel besides the force.</summary>
/// <param name="Name">Its name, or what it is where it has none.</param>
/// <param name="Kind">"force", "extension", "temperature" or "other".</param>
/// <param name="Unit">Its unit: N, mm and °C for the kinds that have theirs.</param>
/// <param name="Value">What it was last; null for none.</param>
internal sealed record ChannelView(string Name, string Kind, string Unit, double? Value)
{
    internal static ChannelView Of(ChannelNow channel) =>
        new(Reports.Pictures.ChannelPicture.NameOf(channel.Head), channel.Head.Kind, channel.Head.Unit, channel.Value);
}

/// <summary>The device in short.</summary>
internal sealed record DeviceView(string Name, string Id, int FirmwareVersion, bool Simulated, bool CanMove, bool CanHome, bool HasFeeder);

/// <summary>The calibration in force in short.</summary>
/// <param name="GreatestReferenceNewtons">Beyond it forces are extrapolated.</param>
/// <param name="ValidUntil">When it ends by itself.</param>
/// <param name="Class">With its range and what it is not; null where it reached none.</param>
/// <param name="CheckWeight">What the check weight says under it; null where the device has none.</param>
internal sealed record CalibrationInForce(double GreatestReferenceNewtons, DateTimeOffset ValidUntil, string? Class, string? CheckWeight);

/// <summary>A sequence without its list of specimens, which is sent apart when it changes. The code of the reason is for
/// programs.</summary>
internal sealed record SequenceView(
    string Id, string StudyId, string Stage, string Reason, string ReasonCode, string? SpecimenId, string? RunId, int Total, int Pulled,
        int Broken,
    int Skipped, double? AnnouncedSeconds, bool NeedsConfirmation, bool NeedsOpenGrip, double? ClampingForceNewtons,
        double? RunningMaximumNewtons)
{
    internal static SequenceView From(SequenceSnapshot q, DateTimeOffset now, Units units)
    {
        int pulled = 0, broken = 0, skipped = 0;
        foreach (SpecimenProgress each in q.Specimens)
        {
            if (each.State == SpecimenState.Pulled) pulled++;
            if (each.State == SpecimenState.Skipped) skipped++;
            if (each is { State: SpecimenState.Pulled, Ending: PullEnding.Broken or PullEnding.PartlyBroken }) broken++;
        }

        double? announced = q.PullAnnouncedFor is { } at ? Math.Max(0, Math.Round((at - now).TotalSeconds, 1)) : null;
        return new SequenceView(q.Plan.SequenceId, q.Plan.StudyId, q.Stage.Word(), q.Reason.In(units), q.Reason.Code, q.SpecimenId, q.RunId,
            q.Specimens.Count, pulled, broken, skipped, announced, q.NeedsConfirmation, q.NeedsOpenGrip,
                StateView.Finite(q.ClampingForceNewtons),
            StateView.Finite(q.RunningMaximumNewtons));
    }
}

/// <summary>A run's result in short.</summary>
internal sealed record RunView(
    string RunId, string SpecimenId, string Ending, string Reason, double? PeakForceNewtons, double? BreakForceNewtons,
    double? StrengthMegapascals, double? ExpandedUncertaintyMegapascals, double? AreaSquareMillimetres, string? SectionBasis,
    bool Extrapolated, IReadOnlyList<string> Warnings, double? PeakExpandedNewtons, double? AreaExpandedSquareMillimetres)
{
    /// <summary>Coverage factor of the shown interval: about 95 % (JCGM 100, 6.3.3).</summary>
    internal const double CoverageFactor = 2;

    internal static RunView From(Run run, Units units)
        => new(run.Head.RunId, run.Head.SpecimenId, run.Ending.Word(), run.Reason.In(units),
        StateView.Finite(run.Reading?.PeakForceNewtons), StateView.Finite(run.Reading?.BreakForceNewtons),
        StateView.Finite(run.Strength?.Megapascals),
        StateView.Finite(CoverageFactor * run.Strength?.StandardUncertaintyMegapascals),
        StateView.Finite(run.Strength?.AreaSquareMillimetres), run.Strength?.SectionBasis, run.Strength?.Extrapolated ?? false,
        run.Warnings.In(units), StateView.Finite(PeakForceUncertainty.ExpandedNewtons(run)),
        StateView.Finite(CoverageFactor * run.Strength?.AreaStandardUncertaintySquareMillimetres));
}
