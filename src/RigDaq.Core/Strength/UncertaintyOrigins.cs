using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;

namespace RigDaq.Core.Strength;

/// <summary>One origin of a strength's uncertainty.</summary>
/// <param name="Name">In words.</param>
/// <param name="StandardPercent">Its standard uncertainty in per cent of the force or of the strength.</param>
/// <param name="SharePercent">Its share of the variance.</param>
/// <param name="IsAssumed">Whether nothing was entered and a usual value was taken.</param>
public sealed record UncertaintyOrigin(string Name, double StandardPercent, double SharePercent, bool IsAssumed);

/// <summary>Something to buy or to do, and what it would leave.</summary>
/// <param name="Advice">In words.</param>
/// <param name="ExpandedPercent">The expanded uncertainty then, in per cent.</param>
public sealed record UncertaintyGain(string Advice, double ExpandedPercent);

/// <summary>What is known of caliper and load train.</summary>
public sealed record BenchInputs
{
    /// <summary>The caliper's own error limit in mm; null where it is not known.</summary>
    public double? CaliperErrorMillimetres { get; init; }

    /// <summary>Bending of the specimen in the grips, in per cent of the mean stress; null where it was not measured.</summary>
    public double? BendingPercent { get; init; }
}

/// <summary>
/// Where the uncertainty of one strength comes from on this bench, at a force and a section, ranked, with three things that would shrink it most. Relative
/// uncertainties of a quotient add in squares (JCGM 100, 5.1.6); expanded with k = 2.
/// </summary>
public sealed record UncertaintyOrigins
{
    /// <summary>About 95 % (JCGM 100, 6.3.3).</summary>
    public const double CoverageFactor = 2;

    /// <summary>A caliper's error limit where none is known, in mm: that of a digital caliper with steps of 0.01 mm (ISO 13385-1, from memory).</summary>
    public const double AssumedCaliperErrorMillimetres = 0.02;

    /// <summary>A micrometer's, with its step (ISO 3611, from memory).</summary>
    private const double MicrometerErrorMillimetres = 0.004, MicrometerStepMillimetres = 0.001;

    /// <summary>Bending where none was measured, in per cent: class 5 of ISO 23788, from memory.</summary>
    public const double AssumedBendingPercent = 5;

    private const double BendingAlignedPercent = 1;
    private const double RoomHeldKelvin = 2;
    private const double SheetPercent = 0.03;
    private const double BetterWeights = 1.0 / 3;
    private const int GainsMax = 3;

    /// <summary>The force in newtons.</summary>
    public required double ForceNewtons { get; init; }

    /// <summary>The expanded uncertainty in per cent: of the strength, or of the force where no section was given.</summary>
    public required double ExpandedPercent { get; init; }

    /// <summary>The origins, the greatest first.</summary>
    public required IReadOnlyList<UncertaintyOrigin> Origins { get; init; }

    /// <summary>At most three, the most helpful first.</summary>
    public required IReadOnlyList<UncertaintyGain> Gains { get; init; }

    /// <summary>Reckons it; null where the calibration says nothing of that force.</summary>
    /// <param name="model">The calibration's.</param>
    /// <param name="forceNewtons">A peak force, above 0.</param>
    /// <param name="section">Width and thickness as read; null for the force alone.</param>
    /// <param name="bench">What is known of caliper and load train.</param>
    public static UncertaintyOrigins? Of(UncertaintyModel model, double forceNewtons, SectionMeasurement? section, BenchInputs bench)
    {
        if (Parts(model, forceNewtons, section, bench) is not { } parts) return null;
        double variance = parts.Sum(part => part.Percent * part.Percent);
        double now = CoverageFactor * Math.Sqrt(variance);
        return new UncertaintyOrigins
        {
            ForceNewtons = forceNewtons,
            ExpandedPercent = now,
            Origins =
            [
                .. parts.Where(part => part.Percent > 0).OrderByDescending(part => part.Percent)
                    .Select(part => new UncertaintyOrigin(part.Name, part.Percent, 100 * part.Percent * part.Percent / variance, part.Assumed)),
            ],
            Gains =
            [
                .. Changes(model, forceNewtons, section, bench).Where(change => change.Parts is not null)
                    .Select(change => new UncertaintyGain(change.Advice, CoverageFactor * Math.Sqrt(change.Parts!.Sum(part => part.Percent * part.Percent))))
                    .Where(gain => gain.ExpandedPercent < now * 0.99).OrderBy(gain => gain.ExpandedPercent).Take(GainsMax),
            ],
        };
    }

    private static List<Part>? Parts(UncertaintyModel model, double force, SectionMeasurement? section, BenchInputs bench)
    {
        var of = Calibration.Quality.ForceUncertainty.Of(model, force);
        if (of.ExpandedNewtons is null) return null;
        List<Part> parts = [.. of.Lines.Select(line => new Part(line.Kind, line.Name, 100 * line.StandardNewtons / force, line.IsAssumed))];
        if (section is null || SectionCalculation.OfReadings(section).Section is not { } measured) return parts;
        parts.Add(new Part(null, CoreText.OriginSection, 100 * measured.StandardUncertaintySquareMillimetres / measured.AreaSquareMillimetres, false));

        // One caliper reads both: its error is shared, so the relative parts add before they are squared.
        double error = bench.CaliperErrorMillimetres ?? AssumedCaliperErrorMillimetres;
        double shared = (1 / section.WidthsMillimetres.Average()) + (1 / section.ThicknessesMillimetres.Average());
        parts.Add(new Part(null, CoreText.OriginCaliper, 100 * error / Math.Sqrt(3) * shared, bench.CaliperErrorMillimetres is null));
        parts.Add(new Part(null, CoreText.OriginBending, (bench.BendingPercent ?? AssumedBendingPercent) / Math.Sqrt(3), bench.BendingPercent is null));
        return parts;
    }

    private static IEnumerable<(string Advice, List<Part>? Parts)> Changes(UncertaintyModel model, double force, SectionMeasurement? section, BenchInputs bench)
    {
        var inputs = model.Inputs;
        if (!(inputs.TemperatureSpreadKelvin <= RoomHeldKelvin))
            yield return (CoreText.AdviceRoom(RoomHeldKelvin), Parts(model with { Inputs = inputs with { TemperatureSpreadKelvin = RoomHeldKelvin } }, force, section, bench));
        if (inputs.NonLinearityPercent is null)
            yield return (CoreText.AdviceSheet(SheetPercent), Parts(model with { Inputs = inputs with { NonLinearityPercent = SheetPercent } }, force, section, bench));
        if (force > model.GreatestReferenceNewtons)
            yield return (CoreText.AdviceReferences(force), Without(UncertaintyKind.Extrapolation, UncertaintyKind.Shape));
        yield return (CoreText.AdviceWeights, Times(UncertaintyKind.References, BetterWeights));
        yield return (CoreText.AdviceSeries, Times(UncertaintyKind.Fit, 1 / Math.Sqrt(2)));
        yield return (CoreText.AdviceCurve, model.Coefficients.Count == 1 ? Without(UncertaintyKind.Shape) : null);
        yield return (CoreText.AdviceZero, model.ZeroDriftNewtons is null && model.ZeroReturnNewtons is null ? Without(UncertaintyKind.ZeroDrift) : null);
        if (section is null) yield break;
        yield return (CoreText.AdviceMicrometer(MicrometerErrorMillimetres), Parts(model, force,
            section with { ResolutionMillimetres = Math.Min(section.ResolutionMillimetres, MicrometerStepMillimetres) }, bench with { CaliperErrorMillimetres = MicrometerErrorMillimetres }));
        if (!(bench.BendingPercent <= BendingAlignedPercent))
            yield return (CoreText.AdviceAlignment(BendingAlignedPercent), Parts(model, force, section, bench with { BendingPercent = BendingAlignedPercent }));

        List<Part>? Without(params UncertaintyKind[] kinds) => Parts(model, force, section, bench)?.FindAll(part => part.Kind is not { } kind || !kinds.Contains(kind));

        List<Part>? Times(UncertaintyKind kind, double factor) =>
            Parts(model, force, section, bench)?.ConvertAll(part => part.Kind == kind ? part with { Percent = part.Percent * factor } : part);
    }

    private readonly record struct Part(UncertaintyKind? Kind, string Name, double Percent, bool Assumed);
}
