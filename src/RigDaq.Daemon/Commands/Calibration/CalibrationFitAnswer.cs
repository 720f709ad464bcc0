using RigDaq.Core.Calibration.Quality;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>What <c>calibration fit --json</c> prints. Its names are promised: more may be added, none may go.</summary>
internal sealed record CalibrationFitAnswer
{
    public required string File { get; init; }

    public required int Degree { get; init; }

    public required bool Constant { get; init; }

    public required IReadOnlyList<double> Coefficients { get; init; }

    public required IReadOnlyList<double> StandardErrors { get; init; }

    public required double ResidualStandardDeviation { get; init; }

    public required double RSquared { get; init; }

    public required double GreatestReferenceNewtons { get; init; }

    public required IReadOnlyList<Step> Steps { get; init; }

    public required double? ZeroErrorPercent { get; init; }

    public required ClassAnswer? Class { get; init; }

    public required Sentence DegreeAdvice { get; init; }

    /// <summary>The deflection of the greatest reference: from there on a curve is carried on straight.</summary>
    public required double GreatestDeflectionCounts { get; init; }

    public required int AdvisedDegree { get; init; }

    /// <summary>The uncertainty at the forces that were asked for, in their order.</summary>
    public required IReadOnlyList<AtForce> At { get; init; }

    public required IReadOnlyList<FittedPoint> Points { get; init; }

    public required IReadOnlyList<Sentence> Warnings { get; init; }

    /// <param name="file">The file, or what the readings are named by.</param>
    /// <param name="fit">The fit.</param>
    /// <param name="at">The uncertainty at the forces that were asked for; none where none was.</param>
    public static CalibrationFitAnswer Of(string file, CalibrationFit fit, IReadOnlyList<ForceUncertainty> at) => new()
    {
        File = file,
        Degree = fit.Settings.Degree,
        Constant = fit.Settings.Constant,
        Coefficients = fit.Polynomial.Coefficients,
        StandardErrors = fit.Polynomial.StandardErrors,
        ResidualStandardDeviation = fit.Polynomial.ResidualStandardDeviation,
        RSquared = fit.Polynomial.RSquared,
        GreatestReferenceNewtons = fit.GreatestReferenceNewtons,
        Steps = [.. fit.Figures.Steps.Select(Step.Of)],
        ZeroErrorPercent = fit.Figures.ZeroErrorPercent,
        Class = fit.Figures.Class is { } given ? new ClassAnswer(given.Value, given.FromNewtons, given.ToNewtons, given.ToString()) : null,
        DegreeAdvice = fit.Figures.DegreeAdvice,
        GreatestDeflectionCounts = fit.GreatestDeflectionCounts,
        AdvisedDegree = fit.Figures.AdvisedDegree,
        At = [.. at.Select(AtForce.Of)],
        Points = fit.Points,
        Warnings = [.. fit.Figures.Warnings, .. at.SelectMany(one => one.Notes).Distinct().Except(fit.Figures.Warnings)],
    };

    /// <param name="ForceNewtons">The force.</param>
    /// <param name="ExpandedUncertaintyNewtons">U for 95 %; null where it cannot be had, and a warning says why.</param>
    /// <param name="CoverageFactor">U over the standard uncertainty.</param>
    /// <param name="StandardUncertaintyNewtons">The standard uncertainty, known parts that stand uncorrected included.</param>
    /// <param name="Lines">The budget.</param>
    internal sealed record AtForce(double ForceNewtons, double? ExpandedUncertaintyNewtons, double? CoverageFactor,
        double? StandardUncertaintyNewtons, IReadOnlyList<BudgetPart> Lines)
    {
        public static AtForce Of(ForceUncertainty u) => new(u.ForceNewtons, u.ExpandedNewtons, u.CoverageFactor, u.StandardNewtons,
            [.. u.Lines.Select(line => new BudgetPart(line.Name, line.StandardNewtons, line.IsAssumed))]);
    }

    /// <param name="Name">What it is about, in words.</param>
    /// <param name="StandardUncertaintyNewtons">Its standard uncertainty.</param>
    /// <param name="Assumed">Whether nothing was entered and a usual value was taken.</param>
    internal sealed record BudgetPart(string Name, double StandardUncertaintyNewtons, bool Assumed);

    /// <param name="Value">0.5, 1, 2 or 3.</param>
    /// <param name="FromNewtons">From where every step meets it.</param>
    /// <param name="ToNewtons">The greatest reference force.</param>
    /// <param name="Statement">The class in words, as it may be printed.</param>
    internal sealed record ClassAnswer(double Value, double FromNewtons, double ToNewtons, string Statement);

    internal sealed record Step
    {
        public required double ReferenceNewtons { get; init; }

        public required double? IndicationErrorPercent { get; init; }

        public required double? WorstIndicationErrorPercent { get; init; }

        /// <summary>How the indication error was had: never from rows that were fitted.</summary>
        public string IndicationErrorMethod { get; init; } = "step left out of the fit";

        public required double? RepeatabilityPercent { get; init; }

        public required double? ReversibilityPercent { get; init; }

        public required double ResolutionPercent { get; init; }

        public required double? ExpandedUncertaintyPercent { get; init; }

        public static Step Of(StepFigures figures) => new()
        {
            ReferenceNewtons = figures.ReferenceNewtons,
            IndicationErrorPercent = figures.IndicationErrorPercent,
            WorstIndicationErrorPercent = figures.WorstIndicationErrorPercent,
            RepeatabilityPercent = figures.RepeatabilityPercent,
            ReversibilityPercent = figures.ReversibilityPercent,
            ResolutionPercent = figures.ResolutionPercent,
            ExpandedUncertaintyPercent = figures.ExpandedUncertaintyPercent,
        };
    }
}
