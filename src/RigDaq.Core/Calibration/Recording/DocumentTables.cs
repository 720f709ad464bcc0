using System.Globalization;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Quantities;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Recording;

/// <summary>The tables of a calibration record.</summary>
internal static class DocumentTables
{
    public static IEnumerable<DocumentTable> Of(CalibrationRecord record, CalibrationFit? fit, IReadOnlyList<double> budgetForces,
        Units units)
    {
        yield return Coefficients(record);
        if (record.Figures is { } figures) yield return Steps(figures, units);
        foreach (double force in budgetForces)
        {
            if (record.UncertaintyAt(force) is { } uncertainty) yield return Budget(uncertainty, units);
        }

        if (record.Circumstances is { Weights.Count: > 0 } under) yield return Weights(under.Weights);
        if (record.Readings.Count > 0) yield return Readings(record.Readings, fit, units);
    }

    /// <summary>A budget as a table a person can read.</summary>
    public static DocumentTable Budget(ForceUncertainty uncertainty, Units units)
    {
        Unit unit = units.Force;
        // Two digits of the whole, one more of its parts, so that their sum can be followed (JCGM 100, 7.2.6).
        int decimals = NumberText.TwoDigits(unit.Of(uncertainty.ExpandedNewtons ?? uncertainty.StandardNewtons ?? 0));
        string U(double newtons, int more = 0) => NumberText.Of(unit.Of(newtons), decimals + more);
        double whole = uncertainty.Lines.Sum(line => line.StandardNewtons * line.StandardNewtons);
        List<IReadOnlyList<string>> rows =
        [
            .. uncertainty.Lines.Select(line => (IReadOnlyList<string>)
            [
                line.Name, line.Distribution, U(line.StandardNewtons, 1), line.DegreesOfFreedom is { } freedom ? Number(freedom, "0.#")
                    : "∞",
                whole > 0 ? Number(100 * line.StandardNewtons * line.StandardNewtons / whole, "0.0") : "",
            ]),
        ];
        string total = uncertainty.ExpandedNewtons is { } expanded
            ? CoreText.DocumentBudgetTotal(U(uncertainty.StandardNewtons ?? 0, 1), U(expanded), unit.Symbol, uncertainty.CoverageFactor,
                NumberText.Significant(uncertainty.ExpandedPercent ?? 0, 2))
            : CoreText.DocumentWithoutTotal;
        return new DocumentTable(CoreText.DocumentBudgetTable(unit.Of(uncertainty.ForceNewtons), unit.Symbol),
            [CoreText.DocumentPartColumn, CoreText.DocumentDistributionColumn, CoreText.DocumentStandardColumn(unit.Symbol),
            CoreText.DocumentFreedomColumn, CoreText.DocumentShareColumn], rows, string.Join(" ", [total, .. uncertainty.Notes.In(units)]));
    }

    private static DocumentTable Coefficients(CalibrationRecord record) => new(CoreText.DocumentCurveTable,
        [CoreText.DocumentCoefficientColumn, CoreText.DocumentCoefficientValueColumn, CoreText.DocumentStandardErrorColumn],
    [
        .. record.Curve.Coefficients.Select((value, i) => (IReadOnlyList<string>)
            [$"a{i + 1}", value.ToString("E9", CultureInfo.InvariantCulture), i < record.StandardErrors.Count
                ? record.StandardErrors[i].ToString("E2", CultureInfo.InvariantCulture) : ""]),
    ]);

    private static DocumentTable Steps(CalibrationFigures figures, Units units) => new(CoreText.DocumentStepTable,
        [
            CoreText.DocumentReferenceColumn(units.Force.Symbol), CoreText.DocumentIndicationColumn, CoreText.DocumentWorstIndicationColumn,
                CoreText.DocumentRepeatabilityColumn,
            CoreText.DocumentReversibilityColumn, CoreText.DocumentResolutionColumn, CoreText.DocumentCreepColumn,
                CoreText.DocumentForceUncertaintyColumn,
            CoreText.DocumentReferenceUncertaintyColumn,
        ],
    [
        .. figures.Steps.Select(step => (IReadOnlyList<string>)
        [
            NumberText.Of(units.Force.Of(step.ReferenceNewtons), ReferenceDecimals(step, units.Force)),
            .. new[] { step.IndicationErrorPercent, step.WorstIndicationErrorPercent, step.RepeatabilityPercent, step.ReversibilityPercent,
                step.ResolutionPercent,
                step.CreepPercent, step.ExpandedUncertaintyPercent, step.ReferenceExpandedUncertaintyPercent }
                .Select(figure => figure is { } figureValue ? NumberText.Of(figureValue, Decimals(step)) : "–"),
        ]),
    ], CoreText.DocumentStepNote);

    /// <summary>Those of two digits of the step's own uncertainty.</summary>
    private static int Decimals(StepFigures step) => step.ExpandedUncertaintyPercent is > 0 and { } expanded
        ? NumberText.TwoDigits(expanded) : DecimalsUnknown;

    private static int ReferenceDecimals(StepFigures step, Unit unit) => step.ReferenceExpandedUncertaintyPercent is > 0 and { } expanded
        ? NumberText.TwoDigits(unit.Of(step.ReferenceNewtons * expanded / 100))
        : unit.Decimals(DecimalsUnknown);

    private const int DecimalsUnknown = 3;

    private static DocumentTable Weights(IReadOnlyList<Weight> weights) => new(CoreText.DocumentWeightTable,
        [CoreText.DocumentWeightColumn, CoreText.DocumentMassColumn, CoreText.DocumentMassUncertaintyColumn, CoreText.DocumentKnownByColumn,
            CoreText.DocumentDensityColumn],
    [
        .. weights.Select(weight => (IReadOnlyList<string>)
        [
            weight.Name, Number(weight.MassKilograms, "0.######"), NumberText.Significant(weight.StandardUncertaintyKilograms * 1e6, 2),
            weight.Basis switch
            {
                WeightBasis.Class => CoreText.DocumentKnownByClass(weight.Class?.ToString()),
                WeightBasis.Certificate => CoreText.DocumentKnownByCertificate(weight.Certificate),
                _ => CoreText.DocumentKnownByOneself,
            },
            Number(weight.DensityKilogramsPerCubicMetre, "0"),
        ]),
    ]);

    private static DocumentTable Readings(IReadOnlyList<CalibrationReading> readings, CalibrationFit? fit, Units units)
    {
        // Residuals come in the order of the fitted readings.
        var residuals = new Queue<double>(fit?.Points.Select(point => point.ResidualNewtons) ?? []);
        return new DocumentTable(CoreText.DocumentReadingTable,
        [
            CoreText.DocumentSeriesColumn, CoreText.DocumentDirectionColumn, CoreText.DocumentReadingReferenceColumn,
                CoreText.DocumentByColumn, CoreText.DocumentCountsColumn,
            CoreText.DocumentResidualColumn,
        ],
        [
            .. readings.Select(reading => (IReadOnlyList<string>)
            [
                reading.Series, Direction(reading),
                Number(reading.Reference.Newtons, "0.0000"), reading.Reference.Description, Number(reading.Counts, "0.0"),
                !reading.IsZero && reading.Direction == LoadDirection.Rising && residuals.TryDequeue(out double residual)
                    ? Number(residual, "0.00000") : "",
            ]),
        ], units.Force.IsStored ? "" : CoreText.DocumentReadingNote);
    }

    private static string Direction(CalibrationReading reading) => reading.IsZero ? CoreText.DocumentZeroReading
        : reading.Direction == LoadDirection.Rising ? CoreText.DocumentRisingReading : CoreText.DocumentFallingReading;

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
