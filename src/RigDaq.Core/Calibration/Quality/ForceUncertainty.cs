using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>How far beyond the references a force lies.</summary>
public enum ForceReach
{
    /// <summary>Within the references.</summary>
    Inside,

    /// <summary>Above the greatest reference force: a note goes with it.</summary>
    AboveReferences,

    /// <summary>Above twice the greatest reference force: the word "extrapolated" goes with it wherever it appears.</summary>
    Extrapolated,
}

/// <summary>What a line of a budget is about.</summary>
public enum UncertaintyKind
{
    /// <summary>The reference forces.</summary>
    References,

    /// <summary>The fit, which holds the repeatability.</summary>
    Fit,

    /// <summary>Resolution, at the zero and at the reading together.</summary>
    Resolution,

    /// <summary>Reversibility.</summary>
    Reversibility,

    /// <summary>The zero's drift.</summary>
    ZeroDrift,

    /// <summary>Creep.</summary>
    Creep,

    /// <summary>Temperature.</summary>
    Temperature,

    /// <summary>The allowance beyond the greatest reference.</summary>
    Extrapolation,

    /// <summary>What the chosen curve leaves of the cell's shape.</summary>
    Shape,

    /// <summary>The converter's step in the readings of the calibration.</summary>
    ConverterStep,
}

/// <summary>Where on its way a force is read.</summary>
public enum LoadWay
{
    /// <summary>The force has risen without turning: the peak of a pull.</summary>
    Rising,

    /// <summary>The force has come down from a greater one, at most from the greatest reference.</summary>
    Falling,

    /// <summary>Either may be.</summary>
    Unknown,
}

/// <summary>One line of an uncertainty budget.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Name">In words.</param>
/// <param name="Distribution">normal, or rectangular with what the figure was divided by.</param>
/// <param name="StandardNewtons">Its standard uncertainty in newtons.</param>
/// <param name="DegreesOfFreedom">Null for infinitely many.</param>
public sealed record BudgetLine(UncertaintyKind Kind, string Name, string Distribution, double StandardNewtons, double? DegreesOfFreedom)
{
    /// <summary>The half-width in newtons of a rectangular part; null for any other.</summary>
    public double? HalfWidthNewtons { get; init; }

    /// <summary>Whether the part is known, in newtons, and stands uncorrected.</summary>
    public bool IsKnown { get; init; }

    /// <summary>Whether nothing was entered and a usual value was taken.</summary>
    public bool IsAssumed { get; init; }
}

/// <summary>
/// The uncertainty of a force under a calibration (JCGM 100, the GUM): root sum of squares of its parts, expanded to 95 % by t at the
/// Welch-Satterthwaite effective degrees of freedom. Where one bound makes more than half of the variance, or a known part stands
/// uncorrected, k comes from the convolution of those with the rest (JCGM 101).
/// </summary>
public sealed record ForceUncertainty
{
    /// <summary>The word that goes with a force above twice the greatest reference.</summary>
    public static string ExtrapolatedWord => CoreText.ForceExtrapolated;

    /// <summary>Non-linearity where the data sheet is not at hand, in per cent of full scale.</summary>
    /// <remarks>The sheets of simple cells say 0.02 to 0.1 % (common practice, no source): the greatest of them. With 0.05 % the interval
    /// at twice the references held 88 % of cells bent by up to 0.2 %, with 0.1 % all. References that show more widen it by
    /// themselves.</remarks>
    public const double AssumedNonLinearityPercent = 0.1;

    /// <summary>The same inside the references: the middle of what sheets say, because the references have looked there themselves and
    /// widen it by what they show.</summary>
    public const double AssumedNonLinearityInsidePercent = 0.05;

    /// <summary>The temperature's effect on the slope where nothing was entered, in per cent per kelvin (common practice, no
    /// source).</summary>
    public const double AssumedTemperaturePercentPerKelvin = 0.01;

    /// <summary>How far the room may be from the temperature of the calibration where nothing was entered, in kelvin (common practice, no
    /// source).</summary>
    public const double AssumedTemperatureSpreadKelvin = 10;

    /// <summary>The drift of the zero where no zero was read after unloading, in per cent of the greatest reference: the limit of class 1
    /// (ISO 7500-1, from memory).</summary>
    public const double AssumedZeroDriftPercent = 0.1;

    /// <summary>What is not known of the branch that a force is read on, as a share of the greatest reversibility: another history, a force
    /// between the steps (common practice, no source).</summary>
    public const double ShareOfReversibilityNotKnown = 0.02;

    // The greatest step itself reads a little above its reference.
    internal const double InsideMargin = 1 + 1e-3;

    /// <summary>The coverage of the expanded uncertainty.</summary>
    public const double Coverage = 0.95;

    /// <summary>The force in newtons, above 0.</summary>
    public required double ForceNewtons { get; init; }

    /// <summary>The budget, one line a source.</summary>
    public required IReadOnlyList<BudgetLine> Lines { get; init; }

    /// <summary>The standard uncertainty in newtons; null where it cannot be had (a curved fit beyond its references).</summary>
    public double? StandardNewtons { get; init; }

    /// <summary>The same without the resolution at zero and reading: the calibration's share alone, for a force whose own noise is counted
    /// elsewhere.</summary>
    public double? CalibrationStandardNewtons { get; init; }

    /// <summary>Welch-Satterthwaite effective degrees of freedom; null for (practically) infinitely many.</summary>
    public double? EffectiveDegreesOfFreedom { get; init; }

    /// <summary>k for 95 %.</summary>
    public double? CoverageFactor { get; init; }

    /// <summary>k·u in newtons.</summary>
    public double? ExpandedNewtons { get; init; }

    /// <summary>k·u in per cent of the force.</summary>
    public double? ExpandedPercent => ExpandedNewtons is { } expanded ? 100 * expanded / ForceNewtons : null;

    /// <summary>How far beyond the references it lies.</summary>
    public required ForceReach Reach { get; init; }

    /// <summary>What a person should know about it.</summary>
    public IReadOnlyList<Sentence> Notes { get; init; } = [];

    /// <summary>The note about a force beyond the references, which is among the others; null within them.</summary>
    internal Sentence? ReachNote { get; private init; }

    /// <summary>The uncertainty of a force.</summary>
    /// <param name="model">What it is computed from.</param>
    /// <param name="forceNewtons">The force, above 0 (the size of a pushing force).</param>
    /// <param name="way">Where on its way it is read.</param>
    public static ForceUncertainty Of(UncertaintyModel model, double forceNewtons, LoadWay way = LoadWay.Rising)
    {
        if (!(forceNewtons > 0) || !double.IsFinite(forceNewtons))
            throw new ArgumentOutOfRangeException(nameof(forceNewtons), "A force above 0 is needed.");
        var reach = ReachOf(model.GreatestReferenceNewtons, forceNewtons);
        int degree = model.Coefficients.Count - (model.Constant ? 1 : 0);
        var line = BudgetPlace.Of(model, forceNewtons);
        if ((reach != ForceReach.Inside && degree > 1 && model.Shape is null) || line is not { } place)
        {
            Sentence refusal = CoreText.ForceBeyondCurve(degree, model.GreatestReferenceNewtons);
            return new ForceUncertainty { ForceNewtons = forceNewtons, Lines = [], Reach = reach, Notes = [refusal] };
        }

        var notes = new List<Sentence>();
        List<BudgetLine> lines =
        [
            .. ForceBudget.References(model, place, notes),
            .. ForceBudget.Readings(model, place, forceNewtons),
            .. ForceBudget.Cell(model, forceNewtons, way, notes),
            .. ForceBudget.Shape(model, place, forceNewtons, reach, notes),
        ];
        Sentence? ofReach = NoteOf(reach, model.GreatestReferenceNewtons);
        if (ofReach is not null) notes.Add(ofReach);
        var whole = Expand(lines);
        return new ForceUncertainty
        {
            ForceNewtons = forceNewtons,
            Lines = lines,
            StandardNewtons = whole.Standard,
            CalibrationStandardNewtons = Combine(lines.Where(part => part.Kind != UncertaintyKind.Resolution)),
            EffectiveDegreesOfFreedom = double.IsFinite(whole.Freedom) ? whole.Freedom : null,
            CoverageFactor = whole.Expanded / whole.Standard,
            ExpandedNewtons = whole.Expanded,
            Reach = reach,
            Notes = notes,
            ReachNote = ofReach,
        };
    }

    /// <summary>What it would be without the lines of a kind: what knowing that part would gain, at most.</summary>
    /// <param name="kind">The part.</param>
    /// <returns>The expanded uncertainty in newtons; null where there is none.</returns>
    public double? ExpandedWithoutNewtons(UncertaintyKind kind) =>
        ExpandedNewtons is null ? null : Expand([.. Lines.Where(line => line.Kind != kind)]).Expanded;

    private static (double Standard, double Freedom, double Expanded) Expand(IReadOnlyList<BudgetLine> lines)
    {
        double standard = Combine(lines);
        if (!(standard > 0)) return (0, double.PositiveInfinity, 0);
        var random = lines.Where(part => !part.IsKnown).ToList();
        double known = lines.Where(part => part.IsKnown).Sum(part => part.StandardNewtons);
        double spread = Combine(random);
        double freedom = EffectiveFreedom.Of(spread, random.Select(part => (part.StandardNewtons, part.DegreesOfFreedom)));
        double factor = EffectiveFreedom.CoverageFactor(freedom, Coverage);
        var bound = random.Where(part => part.HalfWidthNewtons is not null).MaxBy(part => part.StandardNewtons);
        bool dominates = bound is not null && bound.StandardNewtons * bound.StandardNewtons > spread * spread / 2;
        if (!dominates && known == 0) return (standard, freedom, factor * spread);

        // The rest as a normal distribution that is as wide as its t.
        double rest = Combine(random.Where(part => !dominates || !ReferenceEquals(part, bound)));
        double wider =
            EffectiveFreedom.CoverageFactor(EffectiveFreedom.Of(rest, random.Where(part => !dominates || !ReferenceEquals(part, bound))
            .Select(part => (part.StandardNewtons, part.DegreesOfFreedom))), Coverage)
                / EffectiveFreedom.CoverageFactor(double.PositiveInfinity, Coverage);
        return (standard, freedom, CoverageInterval.HalfWidth(known, dominates ? bound!.HalfWidthNewtons!.Value : 0, rest * wider,
            Coverage));
    }

    /// <summary>How far beyond the references a force lies.</summary>
    public static ForceReach ReachOf(double greatestReferenceNewtons, double forceNewtons)
    {
        return forceNewtons > 2 * greatestReferenceNewtons ? ForceReach.Extrapolated
            : forceNewtons > greatestReferenceNewtons * InsideMargin ? ForceReach.AboveReferences
            : ForceReach.Inside;
    }

    private static Sentence? NoteOf(ForceReach reach, double greatestReferenceNewtons) => reach switch
    {
        ForceReach.AboveReferences => CoreText.ForceAboveReferences(greatestReferenceNewtons),
        ForceReach.Extrapolated => CoreText.ForceFarAboveReferences(greatestReferenceNewtons),
        _ => null,
    };

    private static double Combine(IEnumerable<BudgetLine> lines) =>
        Math.Sqrt(lines.Sum(line => line.StandardNewtons * line.StandardNewtons));
}
