using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Pulls;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Uncertainty;

/// <summary>A part of a strength's uncertainty in per cent, standard.</summary>
internal readonly record struct UncertaintyPart(UncertaintyStage Stage, UncertaintyKind? Kind, string Name, string Distribution,
    double Percent, bool Assumed);

/// <summary>What a section has to do with the uncertainty of a strength, in per cent of the area.</summary>
/// <param name="SpreadPercent">Spread and step of the readings.</param>
/// <param name="PercentPerMillimetre">By how much the area grows with each mm that the caliper reads too much.</param>
/// <param name="CaliperErrorMillimetres">The error limit that was kept with it; null where none was.</param>
/// <param name="Basis">What it was taken from, in words; empty for not said.</param>
internal sealed record SectionPart(double SpreadPercent, double PercentPerMillimetre, double? CaliperErrorMillimetres, string Basis)
{
    /// <summary>The spread had a micrometer's step been read; null where that is not known.</summary>
    public double? ByMicrometer { get; init; }

    public static SectionPart Of(Section section) => new(100 * section.RelativeStandardUncertainty,
        100 * section.CaliperSlopeMillimetres / section.AreaSquareMillimetres, section.CaliperErrorMillimetres, "");

    /// <summary>As a run kept it; where it kept nothing of the caliper, by the section as it is known now.</summary>
    public static SectionPart Of(StrengthResult strength, Section? section)
    {
        double spread = 100 * strength.AreaStandardUncertaintySquareMillimetres / strength.AreaSquareMillimetres;
        double perMillimetre = strength.Bench is { } bench
            ? 100 * bench.CaliperStandardUncertaintyMegapascals / strength.Megapascals
                / new BenchInputs().CaliperMillimetres(bench.CaliperErrorMillimetres)
            : 100 * (section?.CaliperSlopeMillimetres ?? 0) / strength.AreaSquareMillimetres;
        return new SectionPart(spread, double.IsFinite(perMillimetre) ? perMillimetre : 0, strength.Bench?.CaliperErrorMillimetres,
            strength.SectionBasis);
    }

    public static double? WithMicrometer(SectionMeasurement section) =>
        SectionCalculation.OfReadings(section with
        { ResolutionMillimetres = Math.Min(section.ResolutionMillimetres, UncertaintyAdvice.MicrometerStepMillimetres) })
            .Section is { } read ? 100 * read.RelativeStandardUncertainty : null;
}

/// <summary>A strength (or a force alone) whose uncertainty is taken apart, as it is or as it would be.</summary>
internal sealed record UncertaintyCase
{
    /// <summary>The calibration's; null where it is not known.</summary>
    public UncertaintyModel? Model { get; init; }

    public required double ForceNewtons { get; init; }

    /// <summary>Of the peak's reading, its zero included, as it was kept with a run; null for what the calibration says of a
    /// reading.</summary>
    public double? ReadingPercent { get; init; }

    /// <summary>The zero's part of that; 0 where it was not kept.</summary>
    public double ZeroPercent { get; init; }

    /// <summary>Null for the force alone.</summary>
    public SectionPart? Section { get; init; }

    /// <summary>Null where the bench is not ours.</summary>
    public BenchInputs? Bench { get; init; }

    /// <summary>The parts; null where the calibration says nothing of the force.</summary>
    public List<UncertaintyPart>? Parts()
    {
        List<UncertaintyPart> parts = [];
        if (Model is { } model)
        {
            var force = ForceUncertainty.Of(model, ForceNewtons);
            if (force.ExpandedNewtons is null && ReadingPercent is null) return null;

            // A run's own noise is its reading's; the resolution would count it twice.
            parts.AddRange(force.Lines.Where(line => ReadingPercent is null || line.Kind != UncertaintyKind.Resolution)
                .Select(line => new UncertaintyPart(
                line.Kind == UncertaintyKind.Resolution ? UncertaintyStage.Peak : UncertaintyStage.Calibration, line.Kind, line.Name,
                    line.Distribution,
                100 * line.StandardNewtons / ForceNewtons, line.IsAssumed)));
        }

        if (ReadingPercent is { } reading)
        {
            double rest = Math.Sqrt(Math.Max(0, (reading * reading) - (ZeroPercent * ZeroPercent)));
            if (ZeroPercent > 0) parts
                .Add(new UncertaintyPart(UncertaintyStage.Zero, null, CoreText.OriginZero, CoreText.ForceBudgetNormal, ZeroPercent, false));
            parts.Add(new UncertaintyPart(UncertaintyStage.Peak, null, ZeroPercent > 0 ? CoreText.OriginPeak : CoreText.OriginPeakAndZero,
                CoreText.ForceBudgetNormal, rest, false));
        }

        if (Section is not { } section) return parts;
        parts.Add(new UncertaintyPart(UncertaintyStage.Section, null, section.Basis.Length > 0 ? CoreText.OriginSectionOf(section.Basis)
            : CoreText.OriginSection, CoreText.ForceBudgetNormal, section.SpreadPercent, false));
        if (Bench is not { } bench) return parts;
        parts.Add(new UncertaintyPart(UncertaintyStage.Caliper, null, CoreText.OriginCaliper, CoreText.ForceBudgetRectangular,
            bench.CaliperMillimetres(section.CaliperErrorMillimetres) * section.PercentPerMillimetre,
                (section.CaliperErrorMillimetres ?? bench.CaliperErrorMillimetres) is null));
        parts.Add(new UncertaintyPart(UncertaintyStage.Alignment, null, CoreText.OriginBending, CoreText.OriginBendingDistribution,
            100 * bench.BendingShare, bench.BendingPercent is null));
        return parts;
    }

    /// <summary>What is to be known of it.</summary>
    public IReadOnlyList<Sentence> Notes() =>
    [
        .. Model is { } model ? ForceUncertainty.Of(model, ForceNewtons).Notes : [],
        .. Section is { PercentPerMillimetre: > 0 } section && Bench is { } by
            && (section.CaliperErrorMillimetres ?? by.CaliperErrorMillimetres) is null
            ? [CoreText.CaliperAssumed(BenchInputs.AssumedCaliperErrorMillimetres)] : Array.Empty<Sentence>(),
        .. Section is not null && Bench is { BendingPercent: null } ? [CoreText.BendingAssumed(BenchInputs.AssumedBendingPercent)]
            : Array.Empty<Sentence>(),
    ];
}
