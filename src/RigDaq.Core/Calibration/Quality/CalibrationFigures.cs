using System.Text.Json.Serialization;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>How good a calibration is at one reference force. Definitions as in ISO 7500-1 (from memory); null where there are no readings
/// for it.</summary>
public sealed record StepFigures
{
    /// <summary>The reference force.</summary>
    public required double ReferenceNewtons { get; init; }

    /// <summary>How many rising readings there are.</summary>
    public required int RisingReadings { get; init; }

    /// <summary>The mean force that the fitted curve indicates in the rising series.</summary>
    public required double IndicatedNewtons { get; init; }

    /// <summary>Indication error q of the mean, 100·(mean(Fi) − F)/F, by a curve that was fitted without this step (each step is left out
    /// in turn): on fitted rows it would only be a residual.</summary>
    public double? IndicationErrorPercent { get; init; }

    /// <summary>The worst single indication error, signed, by the same curve.</summary>
    public double? WorstIndicationErrorPercent { get; init; }

    /// <summary>Repeatability b, 100·(max(Fi) − min(Fi))/F over the rising series.</summary>
    public double? RepeatabilityPercent { get; init; }

    /// <summary>Reversibility v, 100·(Fi falling − Fi rising)/F of one cycle; the greatest by amount, signed.</summary>
    public double? ReversibilityPercent { get; init; }

    /// <summary>Resolution a, 100·r/F.</summary>
    public required double ResolutionPercent { get; init; }

    /// <summary>Creep over the dwell, 100·(after − before)/F; the greatest by amount, signed.</summary>
    public double? CreepPercent { get; init; }

    /// <summary>Expanded uncertainty (95 %) of a force read here, in per cent of it; null where it cannot be had.</summary>
    public double? ExpandedUncertaintyPercent { get; init; }

    /// <summary>Expanded uncertainty (k = 2) of the reference force, in per cent of it; null where it was not given.</summary>
    public double? ReferenceExpandedUncertaintyPercent { get; init; }
}

/// <summary>A class with the range over which every step meets it; never one without the other.</summary>
/// <param name="Value">0.5, 1, 2 or 3.</param>
/// <param name="FromNewtons">The least force of the range.</param>
/// <param name="ToNewtons">The greatest.</param>
public sealed record CalibrationClass(double Value, double FromNewtons, double ToNewtons)
{
    /// <summary>What always goes with a class.</summary>
    public static string OwnCheck => CoreText.ClassOwnCheck;

    /// <summary>
    /// Whether an indication error lies within its own uncertainty of the class's limit, so that other weights might not give the class
    /// (guard band, JCGM 106 and ISO 14253-1, from memory). False in records from before it was kept; their warnings say it.
    /// </summary>
    public bool WithinGuardBand { get; init; }

    /// <summary>What goes with this class wherever it is said.</summary>
    public string Qualified => CoreText.ClassQualified(WithinGuardBand);

    /// <summary>The class in words.</summary>
    [JsonIgnore]
    public Sentence Sentence => CoreText.ClassInWords(Value, FromNewtons, ToNewtons, WithinGuardBand);

    /// <inheritdoc />
    public override string ToString() => Sentence;
}

/// <summary>How good a calibration is.</summary>
public sealed record CalibrationFigures
{
    /// <summary>By step, rising in force.</summary>
    public required IReadOnlyList<StepFigures> Steps { get; init; }

    /// <summary>Zero error f0, 100·(zero return)/F_N of the series with the greatest, signed; null without a zero return.</summary>
    public double? ZeroErrorPercent { get; init; }

    /// <summary>The class; null where there is none, and a warning says why.</summary>
    public CalibrationClass? Class { get; init; }

    /// <summary>Whether a second degree is worth having, as one sentence.</summary>
    public required Sentence DegreeAdvice { get; init; }

    /// <summary>The degree that the readings speak for: 2 where a second one is worth having, else 1.</summary>
    public int AdvisedDegree { get; init; } = 1;

    /// <summary>What is not known or needs a look.</summary>
    public IReadOnlyList<Sentence> Warnings { get; init; } = [];
}
