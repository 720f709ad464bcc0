using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Publishing.Text;
using RigDaq.Text;

namespace RigDaq.Publishing.Messages;

/// <summary>One run with its result, as it is published below <c>runs/</c>. Consumers drop what they have seen: the same run id and
/// revision may arrive more than once.</summary>
public sealed record RunMessage
{
    /// <summary>The topic below the rig's root that runs go to, followed by the run's id.</summary>
    public const string TopicPrefix = "runs/";

    /// <summary>The version of the payload.</summary>
    public int Version { get; init; } = PayloadJson.Version;

    /// <summary>The run's id.</summary>
    public required string RunId { get; init; }

    /// <summary>0 for the first version; each correction adds one.</summary>
    public required int Revision { get; init; }

    /// <summary>Why this revision was made; empty for the first.</summary>
    public required string RevisionReason { get; init; }

    /// <summary>Whether it was sent again on request.</summary>
    public bool Replayed { get; init; }

    /// <summary>The study.</summary>
    public required string StudyId { get; init; }

    /// <summary>The sequence.</summary>
    public required string SequenceId { get; init; }

    /// <summary>The specimen's label.</summary>
    public required string SpecimenId { get; init; }

    /// <summary>The print it was cut from; null where the study does not name the specimen.</summary>
    public string? PrintId { get; init; }

    /// <summary>Its group's material.</summary>
    public string? Material { get; init; }

    /// <summary>Its group's condition.</summary>
    public string? Condition { get; init; }

    /// <summary>Its group's setting.</summary>
    public decimal? Setting { get; init; }

    /// <summary>What the setting is.</summary>
    public string? SettingName { get; init; }

    /// <summary>The setting's unit.</summary>
    public string? SettingUnit { get; init; }

    /// <summary>How the pull ended, in words.</summary>
    public required string Ending { get; init; }

    /// <summary>Why, in words.</summary>
    public required string Reason { get; init; }

    /// <summary>When it started.</summary>
    public required DateTimeOffset StartedAt { get; init; }

    /// <summary>When it ended.</summary>
    public required DateTimeOffset EndedAt { get; init; }

    /// <summary>When the specimen came under load: the device's stamp mapped to wall time; null where that is not known.</summary>
    public DateTimeOffset? ContactAt { get; init; }

    /// <summary>When the fall that separated it began; null unless it broke.</summary>
    public DateTimeOffset? BrokeAt { get; init; }

    /// <summary>Peak force.</summary>
    public double? PeakForceNewtons { get; init; }

    /// <summary>Its standard uncertainty from noise and sampling.</summary>
    public double? PeakForceStandardUncertaintyNewtons { get; init; }

    /// <summary>Force at break.</summary>
    public double? BreakForceNewtons { get; init; }

    /// <summary>Loading rate at the peak.</summary>
    public double? LoadingRateNewtonsPerSecond { get; init; }

    /// <summary>Tensile strength.</summary>
    public double? StrengthMegapascals { get; init; }

    /// <summary>Its standard uncertainty, the shares of calibration, caliper and alignment included.</summary>
    public double? StrengthStandardUncertaintyMegapascals { get; init; }

    /// <summary>Stress at break.</summary>
    public double? StressAtBreakMegapascals { get; init; }

    /// <summary>Whether the strength rests on a force far beyond the calibrated range.</summary>
    public bool Extrapolated { get; init; }

    /// <summary>The section.</summary>
    public double? AreaSquareMillimetres { get; init; }

    /// <summary>What the section was taken from, in words.</summary>
    public string? SectionBasis { get; init; }

    /// <summary>Extension at the peak.</summary>
    public double? ExtensionAtPeakMillimetres { get; init; }

    /// <summary>Work to the break.</summary>
    public double? WorkToBreakJoules { get; init; }

    /// <summary>How many falls recovered.</summary>
    public int LoadDrops { get; init; }

    /// <summary>The shift of the zero over the pull.</summary>
    public double? ZeroShiftNewtons { get; init; }

    /// <summary>The calibration in force.</summary>
    public required string CalibrationId { get; init; }

    /// <summary>The device.</summary>
    public required DeviceMessage Device { get; init; }

    /// <summary>Why it is left out of its group; null where it is not.</summary>
    public VoidMessage? Void { get; init; }

    /// <summary>What a person should look at.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>The message of a run.</summary>
    /// <param name="run">The run.</param>
    /// <param name="study">Its study; null where it is not known, and a warning says so.</param>
    public static RunMessage From(Run run, Study? study)
    {
        Specimen? specimen = study?.Specimens.FirstOrDefault(s => s.Id == run.Head.SpecimenId);
        Print? print = study?.Prints.FirstOrDefault(p => p.Id == specimen?.PrintId);
        var warnings = new List<string>(run.Warnings.AsKept());
        if (print is null) warnings.Add(PublishingText.GroupNotKnown(run.Head.SpecimenId));
        return new RunMessage
        {
            RunId = run.Head.RunId,
            Revision = run.Revision,
            RevisionReason = run.RevisionReason,
            StudyId = run.Head.StudyId,
            SequenceId = run.Head.SequenceId,
            SpecimenId = run.Head.SpecimenId,
            PrintId = print?.Id,
            Material = print?.Material,
            Condition = print?.Condition,
            Setting = print is null ? null : specimen?.Setting,
            SettingName = study?.SettingName,
            SettingUnit = study?.SettingUnit,
            Ending = run.Ending.Word(),
            Reason = run.Reason.AsKept(),
            StartedAt = run.Head.StartedAt,
            EndedAt = run.EndedAt,
            ContactAt = run.ContactAt,
            BrokeAt = run.BrokeAt,
            PeakForceNewtons = Figure.FiniteOrNull(run.Reading?.PeakForceNewtons),
            PeakForceStandardUncertaintyNewtons = Figure.FiniteOrNull(run.Reading?.PeakForceStandardUncertaintyNewtons),
            BreakForceNewtons = Figure.FiniteOrNull(run.Reading?.BreakForceNewtons),
            LoadingRateNewtonsPerSecond = Figure.FiniteOrNull(run.Reading?.LoadingRateNewtonsPerSecond),
            StrengthMegapascals = Figure.FiniteOrNull(run.Strength?.Megapascals),
            StrengthStandardUncertaintyMegapascals = Figure.FiniteOrNull(run.Strength?.StandardUncertaintyMegapascals),
            StressAtBreakMegapascals = Figure.FiniteOrNull(run.Strength?.AtBreakMegapascals),
            Extrapolated = run.Strength?.Extrapolated ?? false,
            AreaSquareMillimetres = Figure.FiniteOrNull(run.Strength?.AreaSquareMillimetres),
            SectionBasis = run.Strength?.SectionBasis,
            ExtensionAtPeakMillimetres = Figure.FiniteOrNull(run.Reading?.ExtensionAtPeakMillimetres),
            WorkToBreakJoules = Figure.FiniteOrNull(run.Reading?.WorkToBreakJoules),
            LoadDrops = run.Reading?.LoadDrops.Count ?? 0,
            ZeroShiftNewtons = Figure.FiniteOrNull(run.ZeroShiftNewtons),
            CalibrationId = run.Head.CalibrationId,
            Device = new(run.Head.Device.Id, run.Head.Device.Name, run.Head.Device.FirmwareVersion, run.Head.Device.Simulated),
            Void = run.Void is { } v ? new(v.Kind.Word(), v.Text, v.At) : null,
            Warnings = warnings,
        };
    }

    /// <summary>The message as it waits in the outbox.</summary>
    public OutboxMessage ToOutbox() => new(TopicPrefix + RunId, PayloadJson.Write(this), Retain: false);
}

/// <summary>The device that measured.</summary>
/// <param name="Id">Its identity, as 16 hexadecimal digits.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="FirmwareVersion">Its firmware.</param>
/// <param name="Simulated">Whether it is a virtual rig: then the figures are nobody's plastic.</param>
public sealed record DeviceMessage(string Id, string Name, int FirmwareVersion, bool Simulated);

/// <summary>Why a run is left out of its group.</summary>
/// <param name="Kind">In words: grip failure, slip, mis-cut, wrong specimen, rig fault.</param>
/// <param name="Text">In the person's own words.</param>
/// <param name="At">When it was said.</param>
public sealed record VoidMessage(string Kind, string Text, DateTimeOffset At);
