using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Uncertainty;

/// <summary>What is usually bought or done to know a strength better, and what the parts would be then.</summary>
internal static class UncertaintyAdvice
{
    /// <summary>A micrometer's step, in mm.</summary>
    public const double MicrometerStepMillimetres = 0.001;

    /// <summary>A micrometer's error limit in mm (ISO 3611, from memory).</summary>
    private const double MicrometerErrorMillimetres = 0.004;

    // A load train with a joint at each grip and a piece clamped in a gauge: class 1 to 2 of ISO 23788 (from memory).
    private const double BendingAlignedPercent = 1;

    // A room with a heating that is left alone (common practice, no source).
    private const double RoomHeldKelvin = 2;

    // A good sheet of a simple cell (common practice, no source).
    private const double SheetPercent = 0.03;

    // Each class of OIML R 111-1 has a third of the next one's limits.
    private const double BetterWeights = 1.0 / 3;

    private const double Halved = 0.5;

    private static readonly double OfTwiceAsMany = 1 / Math.Sqrt(2);
    private static readonly double OfThreeTimesAsMany = 1 / Math.Sqrt(3);

    public static IEnumerable<(Sentence Advice, List<UncertaintyPart>? Parts)> Of(UncertaintyCase now) =>
        [.. OfCalibration(now), .. OfReading(now), .. OfSection(now)];

    private static IEnumerable<(Sentence Advice, List<UncertaintyPart>? Parts)> OfCalibration(UncertaintyCase now)
    {
        if (now.Model is not { } model) yield break;
        var inputs = model.Inputs;
        if (!(inputs.TemperatureSpreadKelvin <= RoomHeldKelvin))
            yield return (CoreText.AdviceRoom(RoomHeldKelvin),
                (now with { Model = model with { Inputs = inputs with { TemperatureSpreadKelvin = RoomHeldKelvin } } }).Parts());
        if (inputs.NonLinearityPercent is null)
            yield return (CoreText.AdviceSheet(SheetPercent),
                (now with { Model = model with { Inputs = inputs with { NonLinearityPercent = SheetPercent } } }).Parts());
        if (now.ForceNewtons > model.GreatestReferenceNewtons)
            yield return (CoreText.AdviceReferences(now.ForceNewtons), Without(now, UncertaintyKind.Extrapolation, UncertaintyKind.Shape));
        yield return (CoreText.AdviceWeights, Times(now, part => part.Kind == UncertaintyKind.References, BetterWeights));
        yield return (CoreText.AdviceSeries, Times(now, part => part.Kind == UncertaintyKind.Fit, OfTwiceAsMany));
        if (model.Coefficients.Count == 1) yield return (CoreText.AdviceCurve, Without(now, UncertaintyKind.Shape));
        if (model.ZeroDriftNewtons is null && model.ZeroReturnNewtons is null) yield return
            (CoreText.AdviceZero, Without(now, UncertaintyKind.ZeroDrift));
    }

    private static IEnumerable<(Sentence Advice, List<UncertaintyPart>? Parts)> OfReading(UncertaintyCase now)
    {
        yield return (CoreText.AdvicePeak, Times(now, part => part.Stage == UncertaintyStage.Peak, Halved));
        yield return (CoreText.AdviceZeroOfPull, Times(now, part => part.Stage == UncertaintyStage.Zero, Halved));
    }

    private static IEnumerable<(Sentence Advice, List<UncertaintyPart>? Parts)> OfSection(UncertaintyCase now)
    {
        if (now.Section is not { } section) yield break;
        yield return (CoreText.AdviceReadings, Times(now, part => part.Stage == UncertaintyStage.Section, OfThreeTimesAsMany));
        if (now.Bench is not { } bench) yield break;
        if (section.PercentPerMillimetre > 0
            && !((section.CaliperErrorMillimetres ?? bench.CaliperErrorMillimetres) <= MicrometerErrorMillimetres))
        {
            yield return (CoreText.AdviceMicrometer(MicrometerErrorMillimetres), (now with
            {
                Section = section with
                {
                    SpreadPercent = section.ByMicrometer ?? section.SpreadPercent,
                    CaliperErrorMillimetres = MicrometerErrorMillimetres
                },
            }).Parts());
        }

        if (!(bench.BendingPercent <= BendingAlignedPercent))
            yield return (CoreText.AdviceAlignment(BendingAlignedPercent),
                (now with { Bench = bench with { BendingPercent = BendingAlignedPercent } }).Parts());
    }

    private static List<UncertaintyPart>? Without(UncertaintyCase now, params UncertaintyKind[] kinds) =>
        now.Parts()?.FindAll(part => part.Kind is not { } kind || !kinds.Contains(kind));

    private static List<UncertaintyPart>? Times(UncertaintyCase now, Func<UncertaintyPart, bool> concerns, double factor) =>
        now.Parts()?.ConvertAll(part => concerns(part) ? part with { Percent = part.Percent * factor } : part);
}
