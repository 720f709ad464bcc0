using System.Text.Json.Serialization;
using RigDaq.App.Curves;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Core.Uncertainty;
using RigDaq.Daemon.Text;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>What <c>rigdaq trace</c> says about one file; the names are the contract's.</summary>
internal sealed record TraceAnswer
{
    public required string File { get; init; }

    /// <summary>Which of a file's curves it is; left out where the file holds one only.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Curve { get; init; }

    public required string Ending { get; init; }
    public double? SampleRateHertz { get; init; }
    public double? NoiseNewtons { get; init; }
    public double? ZeroNewtons { get; init; }
    public double? PeakForceNewtons { get; init; }
    public double? RawPeakForceNewtons { get; init; }
    public double? PeakTimeSeconds { get; init; }
    public double? BreakForceNewtons { get; init; }
    public double? BreakTimeSeconds { get; init; }
    public double? LoadingRateNewtonsPerSecond { get; init; }
    public double? UnderReadNewtons { get; init; }
    public required IReadOnlyList<LoadDrop> LoadDrops { get; init; }
    public required IReadOnlyList<LoadStep> Steps { get; init; }
    public int SpikesRemoved { get; init; }
    public long SamplesLost { get; init; }
    public required IReadOnlyList<Sentence> Warnings { get; init; }
    public double? PeakForceStandardUncertaintyNewtons { get; init; }
    public double? PeakForceExpandedUncertaintyNewtons { get; init; }
    public double? FirstMaximumForceNewtons { get; init; }
    public double? ExtensionAtPeakMillimetres { get; init; }
    public double? ExtensionAtBreakMillimetres { get; init; }
    public double? InitialSlopeNewtonsPerMillimetre { get; init; }
    public double? WorkToBreakJoules { get; init; }
    public double? WorkAfterPeakJoules { get; init; }
    public double? ExtensionAfterPeakMillimetres { get; init; }
    public double? WorkAfterPeakShare { get; init; }
    public double? FallRateNewtonsPerSecond { get; init; }
    public string? Fracture { get; init; }
    public double? SuddenPartingForceNewtons { get; init; }
    public double? InitialSlopeStandardUncertaintyNewtonsPerMillimetre { get; init; }

    /// <summary>What was taken off extension, slope and work; null where the machine's own give is still in them.</summary>
    public double? ComplianceMillimetresPerNewton { get; init; }

    /// <summary>How the file was read; left out where it has the layout of the contract.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public TraceReadAs? Reading { get; init; }

    /// <summary>The picture's file, where one was asked for.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Picture { get; init; }

    /// <summary>The answer for a reading whose times count from the start of the trace as recorded.</summary>
    public static TraceAnswer Of(string file, TraceReading reading) => new()
    {
        File = file,
        Ending = reading.Ending.Word(),
        SampleRateHertz = reading.SampleRateHertz,
        NoiseNewtons = reading.NoiseNewtons,
        ZeroNewtons = reading.ZeroNewtons,
        PeakForceNewtons = reading.PeakForceNewtons,
        RawPeakForceNewtons = reading.RawPeakForceNewtons,
        PeakTimeSeconds = reading.PeakTimeSeconds,
        BreakForceNewtons = reading.BreakForceNewtons,
        BreakTimeSeconds = reading.BreakTimeSeconds,
        LoadingRateNewtonsPerSecond = reading.LoadingRateNewtonsPerSecond,
        UnderReadNewtons = reading.UnderReadNewtons,
        LoadDrops = reading.LoadDrops,
        Steps = reading.Steps,
        SpikesRemoved = reading.SpikesRemoved,
        SamplesLost = reading.SamplesLost,
        Warnings = reading.PeakForceNewtons is null ? [.. reading.Warnings, TerminalText.TraceNoPeak] : reading.Warnings,
        PeakForceStandardUncertaintyNewtons = reading.PeakForceStandardUncertaintyNewtons,
        PeakForceExpandedUncertaintyNewtons = PeakForceUncertainty.ExpandedNewtons(reading),
        FirstMaximumForceNewtons = reading.FirstMaximumForceNewtons,
        ExtensionAtPeakMillimetres = reading.ExtensionAtPeakMillimetres,
        ExtensionAtBreakMillimetres = reading.ExtensionAtBreakMillimetres,
        InitialSlopeNewtonsPerMillimetre = reading.InitialSlopeNewtonsPerMillimetre,
        WorkToBreakJoules = reading.WorkToBreakJoules,
        WorkAfterPeakJoules = reading.WorkAfterPeakJoules,
        ExtensionAfterPeakMillimetres = reading.ExtensionAfterPeakMillimetres,
        WorkAfterPeakShare = reading.WorkAfterPeakShare,
        FallRateNewtonsPerSecond = reading.FallRateNewtonsPerSecond,
        Fracture = reading.Fracture?.Word(),
        SuddenPartingForceNewtons = reading.SuddenPartingForceNewtons,
        InitialSlopeStandardUncertaintyNewtonsPerMillimetre = reading.InitialSlopeStandardUncertaintyNewtonsPerMillimetre,
        ComplianceMillimetresPerNewton = reading.ComplianceMillimetresPerNewton,
    };
}
