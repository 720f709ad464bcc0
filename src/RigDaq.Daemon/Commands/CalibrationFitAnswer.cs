using RigDaq.Core.Calibration.Quality;

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

    public required string DegreeAdvice { get; init; }

    public required IReadOnlyList<FittedPoint> Points { get; init; }

    public required IReadOnlyList<string> Warnings { get; init; }

    public static CalibrationFitAnswer Of(string file, CalibrationFit fit) => new()
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
        Points = fit.Points,
        Warnings = fit.Figures.Warnings,
    };

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
