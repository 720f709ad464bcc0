using RigDaq.Core.Signal;
using RigDaq.Core.Text;
using RigDaq.Core.Trace;
using RigDaq.Text;

namespace RigDaq.Core.Compliance;

/// <summary>A point of the line: the mean of a few neighbouring samples.</summary>
/// <param name="ForceNewtons">Above zero.</param>
/// <param name="PositionMillimetres">Of the crosshead.</param>
public readonly record struct CompliancePoint(double ForceNewtons, double PositionMillimetres);

/// <summary>A machine's give, measured by pulling on a bar so stiff that all the crosshead's way is the machine's (or whose own give is
/// known and taken off): a line through position against force, with how good that line is.</summary>
public sealed record ComplianceFit
{
    /// <summary>The fewest samples that a line is put through.</summary>
    public const int SamplesMin = 10;

    /// <summary>The force must rise by so many standard deviations of its noise: less bends the line down (attenuation, above 0.01
    /// %).</summary>
    public const double NoisesMin = 100;

    /// <summary>The lowest share of the greatest force that the line uses, in per cent: below it slack is still taken up.</summary>
    public const double FromPercent = 20;

    /// <summary>A give that differs by more than this between the lower and the upper half is no line, in per cent (ours).</summary>
    public const double HalvesPercentMax = 10;

    /// <summary>A crosshead that tells fewer different positions than this is too coarse.</summary>
    public const int PositionsMin = 10;

    private const int PointsMax = 200;

    /// <summary>The machine's give in mm/N, the bar's own taken off.</summary>
    public required double MillimetresPerNewton { get; init; }

    /// <summary>Its standard uncertainty: the line's scatter, a third of a bend (half over √3), the bar's own give.</summary>
    public required double StandardUncertaintyMillimetresPerNewton { get; init; }

    /// <summary>The lowest force of the line.</summary>
    public required double FromNewtons { get; init; }

    /// <summary>The greatest force of the line.</summary>
    public required double ToNewtons { get; init; }

    /// <summary>How far positions scatter about the line.</summary>
    public required double ResidualStandardDeviationMillimetres { get; init; }

    /// <summary>The give of the lower half of the forces, the bar's with it.</summary>
    public required double LowerHalfMillimetresPerNewton { get; init; }

    /// <summary>The give of the upper half of the forces, the bar's with it.</summary>
    public required double UpperHalfMillimetresPerNewton { get; init; }

    /// <summary>The bar's own give; null where it was not told, and is in the machine's.</summary>
    public double? BarMillimetresPerNewton { get; init; }

    /// <summary>How many samples the line rests on.</summary>
    public required int Samples { get; init; }

    /// <summary>The line's points, thinned to a few hundred at most: what it can be drawn and judged from later.</summary>
    public IReadOnlyList<CompliancePoint> Points { get; init; } = [];

    /// <summary>What a person should know.</summary>
    public IReadOnlyList<Sentence> Warnings { get; init; } = [];

    /// <summary>Measures it from a pull on a bar.</summary>
    /// <param name="trace">The trace, read; what follows its greatest force (the way back) is left out.</param>
    /// <param name="bar">The bar; null where its own give is not known.</param>
    /// <exception cref="RefusalException">It cannot be measured from this; the message says why and what to do.</exception>
    public static ComplianceFit Of(AnalysedTrace trace, StiffBar? bar)
    {
        if (trace.Positions is not { } positions) throw new RefusalException(CoreText.CompliancePositionUnknown);
        if (trace.Contact < 0) throw new RefusalException(CoreText.ComplianceWithoutContact);
        int greatest = trace.Contact;
        for (int i = trace.Contact; i <= trace.End; i++)
        {
            if (trace.Forces[i] > trace.Forces[greatest]) greatest = i;
        }

        return Of(positions[trace.Contact..(greatest + 1)], trace.Forces[trace.Contact..(greatest + 1)], trace.Noise, bar);
    }

    /// <summary>Measures it from positions and forces of a rising pull.</summary>
    /// <param name="positionsMillimetres">Of the crosshead.</param>
    /// <param name="forcesNewtons">One a position, above zero.</param>
    /// <param name="noiseNewtons">The standard deviation of a force, 0 or more.</param>
    /// <param name="bar">The bar; null where its own give is not known.</param>
    /// <exception cref="RefusalException">It cannot be measured from this; the message says why and what to do.</exception>
    public static ComplianceFit Of(double[] positionsMillimetres, double[] forcesNewtons, double noiseNewtons, StiffBar? bar)
    {
        bar?.Validate();
        if (positionsMillimetres.Length != forcesNewtons.Length) throw new ArgumentException("One force is needed for each position.");
        double greatest = forcesNewtons.Where(double.IsFinite).DefaultIfEmpty().Max();
        int[] loaded = [.. Enumerable.Range(0, forcesNewtons.Length)
            .Where(i => forcesNewtons[i] >= FromPercent / 100 * greatest && double.IsFinite(forcesNewtons[i])
                && double.IsFinite(positionsMillimetres[i]))];
        if (loaded.Length < SamplesMin || !(greatest > 0))
            throw new RefusalException(CoreText.ComplianceTooFewSamples(SamplesMin, greatest > 0 ? loaded.Length : 0));
        double[] forces = [.. loaded.Select(i => forcesNewtons[i])];
        double[] positions = [.. loaded.Select(i => positionsMillimetres[i])];
        if (greatest < NoisesMin * noiseNewtons) throw new RefusalException(CoreText.ComplianceForceTooSmall(greatest, NoisesMin));
        if (positions.Distinct().Count() < PositionsMin) throw new RefusalException(CoreText.CompliancePositionsTooCoarse(PositionsMin));
        var line = BlockedLine.Of(forces, positions);
        if (!(line.Slope > 0) || !double.IsFinite(line.Slope)) throw new RefusalException(CoreText.ComplianceSignWrong);
        double middle = (FromPercent / 100 * greatest / 2) + (greatest / 2);
        BlockedLine lower = Half(forces, positions, force => force <= middle, line),
            upper = Half(forces, positions, force => force >= middle, line);
        double ofBar = bar?.MillimetresPerNewton ?? 0;
        double give = line.Slope - ofBar;
        if (!(give > 0)) throw new RefusalException(CoreText.ComplianceBelowBars(ofBar, line.Slope));
        double bend = lower.Slope - upper.Slope;
        double ofBend = bend / 2 / Math.Sqrt(3), ofBars = StiffBar.RelativeUncertainty * ofBar;
        var warnings = new List<Sentence>();
        if (bar is null) warnings.Add(CoreText.ComplianceHoldsBar);
        double noiseOfBend =
            Math.Sqrt((lower.SlopeStandardError * lower.SlopeStandardError) + (upper.SlopeStandardError * upper.SlopeStandardError));
        if (Math.Abs(bend) > HalvesPercentMax / 100 * line.Slope && Math.Abs(bend) > 2 * noiseOfBend)
            warnings.Add(CoreText.ComplianceNotStraight(lower.Slope, middle, upper.Slope, 100 * bend / line.Slope));

        return new ComplianceFit
        {
            MillimetresPerNewton = give,
            StandardUncertaintyMillimetresPerNewton =
                Math.Sqrt((line.SlopeStandardError * line.SlopeStandardError) + (ofBend * ofBend) + (ofBars * ofBars)),
            FromNewtons = forces.Min(),
            ToNewtons = greatest,
            ResidualStandardDeviationMillimetres = line.ResidualDeviation,
            LowerHalfMillimetresPerNewton = lower.Slope,
            UpperHalfMillimetresPerNewton = upper.Slope,
            BarMillimetresPerNewton = bar?.MillimetresPerNewton,
            Samples = forces.Length,
            Points = Thinned(forces, positions),
            Warnings = warnings,
        };
    }

    /// <summary>The mean of repeated pulls: the scatter between them joins the uncertainty (their standard deviation, for how much one
    /// clamping differs from the next is what later runs meet). Points are the last pull's.</summary>
    /// <param name="fits">At least one.</param>
    public static ComplianceFit Mean(IReadOnlyList<ComplianceFit> fits)
    {
        ComplianceFit last = fits[^1];
        (double mean, double between) = NoiseEstimate.Of([.. fits.Select(fit => fit.MillimetresPerNewton)]);
        double within =
            Math.Sqrt(fits.Average(fit => fit.StandardUncertaintyMillimetresPerNewton * fit.StandardUncertaintyMillimetresPerNewton));
        return last with
        {
            MillimetresPerNewton = mean,
            StandardUncertaintyMillimetresPerNewton = Math.Sqrt((within * within) + (between * between)),
            FromNewtons = fits.Max(fit => fit.FromNewtons),
            ToNewtons = fits.Min(fit => fit.ToNewtons),
            Samples = fits.Sum(fit => fit.Samples),
            Warnings = [.. fits.SelectMany(fit => fit.Warnings).Distinct()],
        };
    }

    /// <summary>As it is taken off.</summary>
    /// <param name="id">The record's id; null for none.</param>
    public MachineCompliance ToCompliance(string? id = null) => new(MillimetresPerNewton)
    {
        StandardUncertaintyMillimetresPerNewton = StandardUncertaintyMillimetresPerNewton,
        ToNewtons = ToNewtons,
        Id = id,
    };

    // Too few samples in one half tell nothing of their own.
    private static BlockedLine Half(double[] forces, double[] positions, Func<double, bool> within, BlockedLine whole)
    {
        int[] at = [.. Enumerable.Range(0, forces.Length).Where(i => within(forces[i]))];
        double[] x = [.. at.Select(i => forces[i])];
        if (x.Length < 5 || x.Max() <= x.Min()) return whole;
        return BlockedLine.Of(x, [.. at.Select(i => positions[i])]);
    }

    private static List<CompliancePoint> Thinned(double[] forces, double[] positions)
    {
        int count = Math.Min(PointsMax, forces.Length);
        var points = new List<CompliancePoint>(count);
        for (int k = 0; k < count; k++)
        {
            int from = (int)((long)k * forces.Length / count), to = (int)((long)(k + 1) * forces.Length / count);
            points.Add(new CompliancePoint(NoiseEstimate.Of(forces.AsSpan(from..to)).Mean,
                NoiseEstimate.Of(positions.AsSpan(from..to)).Mean));
        }

        return points;
    }
}
