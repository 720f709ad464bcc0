using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Text;

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
}

/// <summary>One line of an uncertainty budget.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Name">In words.</param>
/// <param name="Distribution">normal, or rectangular with what the figure was divided by.</param>
/// <param name="StandardNewtons">Its standard uncertainty in newtons.</param>
/// <param name="DegreesOfFreedom">Null for infinitely many.</param>
public sealed record BudgetLine(UncertaintyKind Kind, string Name, string Distribution, double StandardNewtons, double? DegreesOfFreedom);

/// <summary>
/// The uncertainty of a force under a calibration (JCGM 100, the GUM): root sum of squares of its parts, expanded to 95 % by t at the
/// Welch-Satterthwaite effective degrees of freedom.
/// </summary>
public sealed record ForceUncertainty
{
    /// <summary>The word that goes with a force above twice the greatest reference.</summary>
    public const string ExtrapolatedWord = CoreText.ForceExtrapolated;

    /// <summary>Non-linearity where the data sheet is not at hand, in per cent of full scale.</summary>
    public const double AssumedNonLinearityPercent = 0.05;

    /// <summary>The coverage of the expanded uncertainty.</summary>
    public const double Coverage = 0.95;

    /// <summary>The force in newtons, above 0.</summary>
    public required double ForceNewtons { get; init; }

    /// <summary>The budget, one line a source.</summary>
    public required IReadOnlyList<BudgetLine> Lines { get; init; }

    /// <summary>The standard uncertainty in newtons; null where it cannot be had (a curved fit beyond its references).</summary>
    public double? StandardNewtons { get; init; }

    /// <summary>
    /// The same without the resolution at zero and reading: the calibration's share alone, for a force whose own noise is counted elsewhere.
    /// </summary>
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
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>The note about a force beyond the references, which is among the others; null within them.</summary>
    internal string? ReachNote { get; private init; }

    /// <summary>The uncertainty of a force under a calibration in force; null where the calibration was kept without what it needs.</summary>
    public static ForceUncertainty? Of(CalibrationRecord calibration, double forceNewtons) =>
        calibration.Uncertainty is { } model ? Of(model, forceNewtons) : null;

    /// <summary>The uncertainty of a force.</summary>
    /// <param name="model">What it is computed from.</param>
    /// <param name="forceNewtons">The force, above 0 (the size of a pushing force).</param>
    public static ForceUncertainty Of(UncertaintyModel model, double forceNewtons)
    {
        if (!(forceNewtons > 0) || !double.IsFinite(forceNewtons))
            throw new ArgumentOutOfRangeException(nameof(forceNewtons), "A force above 0 is needed.");
        var reach = ReachOf(model.GreatestReferenceNewtons, forceNewtons);
        var notes = new List<string>();
        int degree = model.Coefficients.Count - (model.Constant ? 1 : 0);
        double? reached = Polynomial.Solve(model.Coefficients, model.Constant, forceNewtons);
        if ((reach != ForceReach.Inside && degree > 1) || reached is not { } deflection)
        {
            notes.Add(CoreText.ForceBeyondCurve(degree, model.GreatestReferenceNewtons));
            return new ForceUncertainty { ForceNewtons = forceNewtons, Lines = [], Reach = reach, Notes = notes };
        }

        var lines = new List<BudgetLine>();
        AddReferences(lines, notes, model, deflection);
        double[] powers = Polynomial.Powers(model.Coefficients.Count, model.Constant, deflection);
        lines.Add(new BudgetLine(UncertaintyKind.Fit, CoreText.ForceBudgetFit, CoreText.ForceBudgetNormal,
            Math.Sqrt(Quadratic(model.ScatterCovariance, powers)), model.ScatterDegreesOfFreedom));
        double slope = Math.Abs(Polynomial.SlopeAt(model.Coefficients, model.Constant, deflection));
        lines.Add(new BudgetLine(UncertaintyKind.Resolution, CoreText.ForceBudgetResolution, CoreText.ForceBudgetRectangularResolution,
            model.ResolutionCounts * slope / Math.Sqrt(6), null));
        AddCell(lines, notes, model, forceNewtons);
        if (reach != ForceReach.Inside) lines.Add(Allowance(model, forceNewtons, notes));
        string? ofReach = NoteOf(reach, model.GreatestReferenceNewtons);
        if (ofReach is not null) notes.Add(ofReach);

        double standard = Combine(lines);
        double freedom = EffectiveFreedom.Of(standard, lines.Select(line => (line.StandardNewtons, line.DegreesOfFreedom)));
        double factor = EffectiveFreedom.CoverageFactor(freedom, Coverage);
        return new ForceUncertainty
        {
            ForceNewtons = forceNewtons,
            Lines = lines,
            StandardNewtons = standard,
            CalibrationStandardNewtons = Combine(lines.Where(line => line.Kind != UncertaintyKind.Resolution)),
            EffectiveDegreesOfFreedom = double.IsFinite(freedom) ? freedom : null,
            CoverageFactor = factor,
            ExpandedNewtons = factor * standard,
            Reach = reach,
            Notes = notes,
            ReachNote = ofReach,
        };
    }

    /// <summary>How far beyond the references a force lies.</summary>
    public static ForceReach ReachOf(double greatestReferenceNewtons, double forceNewtons)
    {
        // The greatest step itself reads a little above its reference.
        const double Rounding = 1 + 1e-3;
        return forceNewtons > 2 * greatestReferenceNewtons ? ForceReach.Extrapolated
            : forceNewtons > greatestReferenceNewtons * Rounding ? ForceReach.AboveReferences
            : ForceReach.Inside;
    }

    private static string? NoteOf(ForceReach reach, double greatestReferenceNewtons) => reach switch
    {
        ForceReach.AboveReferences => CoreText.ForceAboveReferences(greatestReferenceNewtons),
        ForceReach.Extrapolated => CoreText.ForceFarAboveReferences(greatestReferenceNewtons),
        _ => null,
    };

    private static void AddReferences(List<BudgetLine> lines, List<string> notes, UncertaintyModel model, double deflection)
    {
        double gravity = 0, others = 0;
        foreach (var shift in model.ReferenceShifts)
        {
            double newtons = Polynomial.At(shift.CoefficientShifts, model.Constant, deflection);
            if (shift.Source == ReferenceForces.GravitySource) gravity += newtons * newtons;
            else others += newtons * newtons;
        }

        if (model.ReferenceShifts.Count == 0) notes.Add(CoreText.ForceReferencesExact);
        if (gravity > 0) lines.Add(new BudgetLine(UncertaintyKind.References, CoreText.ForceBudgetGravity, CoreText.ForceBudgetNormal, Math.Sqrt(gravity), null));
        if (others > 0) lines.Add(new BudgetLine(UncertaintyKind.References, CoreText.ForceBudgetReferences, CoreText.ForceBudgetAsGiven, Math.Sqrt(others), null));
    }

    private static void AddCell(List<BudgetLine> lines, List<string> notes, UncertaintyModel model, double force)
    {
        if (model.ReversibilityNewtons.Count > 0)
            Rectangular(UncertaintyKind.Reversibility, CoreText.ForceBudgetReversibility, CoreText.ForceBudgetRectangularReversibility, Interpolated(model.ReversibilityNewtons, force) / 2);
        else notes.Add(CoreText.ForceReversibilityUnknown);
        if (model.ZeroDriftNewtons is { } drift) Rectangular(UncertaintyKind.ZeroDrift, CoreText.ForceBudgetZeroDrift, CoreText.ForceBudgetRectangular, drift);
        else notes.Add(CoreText.ForceZeroDriftUnknown);
        if (model.CreepPercent is { } creep) Rectangular(UncertaintyKind.Creep, CoreText.ForceBudgetCreep, CoreText.ForceBudgetRectangular, creep / 100 * force);
        else notes.Add(CoreText.ForceCreepUnknown);
        if (model.Inputs is { TemperaturePercentPerKelvin: { } effect, TemperatureSpreadKelvin: { } spread })
            Rectangular(UncertaintyKind.Temperature, CoreText.ForceBudgetTemperature, CoreText.ForceBudgetRectangular, Math.Abs(effect * spread) / 100 * force);
        else notes.Add(CoreText.ForceTemperatureUnknown);

        void Rectangular(UncertaintyKind kind, string name, string distribution, double halfWidthNewtons) =>
            lines.Add(new BudgetLine(kind, name, distribution, halfWidthNewtons / Math.Sqrt(3), null));
    }

    // Half-width e·max(1, 4·(F² − b·F − a)/FS²), a and b of the line that the fit lays through F² at the references: a parabola of depth e at mid-scale
    // leaves the calibration's line by that much. The line crosses the parabola before F_ref, with five even steps
    // at 0.82·F_ref. Never less than e.
    private static BudgetLine Allowance(UncertaintyModel model, double force, List<string> notes)
    {
        var inputs = model.Inputs;
        double percent = inputs.NonLinearityPercent ?? AssumedNonLinearityPercent;
        if (inputs.NonLinearityPercent is null) notes.Add(CoreText.ForceNonLinearityAssumed);
        else if (inputs.NonLinearityOfBestLine) percent *= 2;
        double fullScale = inputs.FullScaleNewtons ?? force;
        if (inputs.FullScaleNewtons is null) notes.Add(CoreText.ForceFullScaleAssumed);
        double least = percent / 100 * fullScale;
        double line = model.BendLine.Count > 0 ? Polynomial.At(model.BendLine, model.Constant, force) : model.GreatestReferenceNewtons * force;
        double halfWidth = least * Math.Max(1, 4 * ((force * force) - line) / (fullScale * fullScale));
        return new BudgetLine(UncertaintyKind.Extrapolation, CoreText.ForceBudgetExtrapolation, CoreText.ForceBudgetRectangular, halfWidth / Math.Sqrt(3), null);
    }

    private static double Interpolated(IReadOnlyList<ForcePoint> points, double force)
    {
        var below = new ForcePoint(0, 0);
        foreach (var point in points)
        {
            if (force <= point.ForceNewtons)
                return below.ValueNewtons + ((point.ValueNewtons - below.ValueNewtons) * (force - below.ForceNewtons) / (point.ForceNewtons - below.ForceNewtons));
            below = point;
        }

        return below.ValueNewtons * force / below.ForceNewtons;
    }

    private static double Combine(IEnumerable<BudgetLine> lines) => Math.Sqrt(lines.Sum(line => line.StandardNewtons * line.StandardNewtons));

    private static double Quadratic(IReadOnlyList<IReadOnlyList<double>> matrix, double[] vector)
    {
        double sum = 0;
        for (int row = 0; row < vector.Length; row++)
        {
            for (int column = 0; column < vector.Length; column++) sum += vector[row] * matrix[row][column] * vector[column];
        }

        return Math.Max(0, sum);
    }
}
