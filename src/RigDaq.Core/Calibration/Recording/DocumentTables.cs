using System.Globalization;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Quantities;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Calibration.Recording;

/// <summary>The tables of a calibration record.</summary>
internal static class DocumentTables
{
    public static IEnumerable<DocumentTable> Of(CalibrationRecord record, CalibrationFit? fit, IReadOnlyList<double> budgetForces, Units units)
    {
        yield return Coefficients(record);
        if (record.Figures is { } figures) yield return Steps(figures, units);
        foreach (double force in budgetForces)
        {
            if (ForceUncertainty.Of(record, force) is { } uncertainty) yield return Budget(uncertainty, units);
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
                line.Name, line.Distribution, U(line.StandardNewtons, 1), line.DegreesOfFreedom is { } freedom ? Number(freedom, "0.#") : "∞",
                whole > 0 ? Number(100 * line.StandardNewtons * line.StandardNewtons / whole, "0.0") : "",
            ]),
        ];
        string total = uncertainty.ExpandedNewtons is { } expanded
            ? FormattableString.Invariant($"Together u = {U(uncertainty.StandardNewtons ?? 0, 1)} {unit.Symbol}, k = {uncertainty.CoverageFactor:0.00} for 95 %: U = {U(expanded)} {unit.Symbol}, {NumberText.Significant(uncertainty.ExpandedPercent ?? 0, 2)} %.")
            : "There is no figure for this force.";
        return new DocumentTable(FormattableString.Invariant($"Uncertainty of a force of {unit.Of(uncertainty.ForceNewtons):0.#} {unit.Symbol}"),
            ["part", "distribution", $"u ({unit.Symbol})", "degrees of freedom", "share of u² (%)"], rows, string.Join(" ", [total, .. UnitWords.In(uncertainty.Notes, units)]));
    }

    private static DocumentTable Coefficients(CalibrationRecord record) => new("The curve", ["coefficient", "value (N per count to the power)", "standard error (scatter alone)"],
    [
        .. record.Curve.Coefficients.Select((value, i) => (IReadOnlyList<string>)
            [$"a{i + 1}", value.ToString("E9", CultureInfo.InvariantCulture), i < record.StandardErrors.Count ? record.StandardErrors[i].ToString("E2", CultureInfo.InvariantCulture) : ""]),
    ]);

    private static DocumentTable Steps(CalibrationFigures figures, Units units) => new("How good it is, by step",
        [$"reference ({units.Force.Symbol})", "q (%)", "worst q (%)", "b (%)", "v (%)", "a (%)", "creep (%)", "U of a force (%)", "U of the reference (%)"],
    [
        .. figures.Steps.Select(step => (IReadOnlyList<string>)
        [
            NumberText.Of(units.Force.Of(step.ReferenceNewtons), ReferenceDecimals(step, units.Force)),
            .. new[] { step.IndicationErrorPercent, step.WorstIndicationErrorPercent, step.RepeatabilityPercent, step.ReversibilityPercent, step.ResolutionPercent,
                step.CreepPercent, step.ExpandedUncertaintyPercent, step.ReferenceExpandedUncertaintyPercent }
                .Select(figure => figure is { } known ? NumberText.Of(known, Decimals(step)) : "–"),
        ]),
    ], "A dash marks what was not looked at. q: each step left out of the fit in turn. U: expanded, 95 %.");

    /// <summary>Those of two digits of the step's own uncertainty.</summary>
    private static int Decimals(StepFigures step) => step.ExpandedUncertaintyPercent is > 0 and { } expanded ? NumberText.TwoDigits(expanded) : DecimalsUnknown;

    private static int ReferenceDecimals(StepFigures step, Unit unit) => step.ReferenceExpandedUncertaintyPercent is > 0 and { } expanded
        ? NumberText.TwoDigits(unit.Of(step.ReferenceNewtons * expanded / 100))
        : unit.Decimals(DecimalsUnknown);

    private const int DecimalsUnknown = 3;

    private static DocumentTable Weights(IReadOnlyList<Weight> weights) => new("The weights",
        ["weight", "conventional mass (kg)", "standard uncertainty (mg)", "known by", "density (kg/m³)"],
    [
        .. weights.Select(weight => (IReadOnlyList<string>)
        [
            weight.Name, Number(weight.MassKilograms, "0.######"), NumberText.Significant(weight.StandardUncertaintyKilograms * 1e6, 2),
            weight.Basis switch
            {
                WeightBasis.Class => $"class {weight.Class}",
                WeightBasis.Certificate => $"certificate {weight.Certificate}",
                _ => "own ±",
            },
            Number(weight.DensityKilogramsPerCubicMetre, "0"),
        ]),
    ]);

    private static DocumentTable Readings(IReadOnlyList<CalibrationReading> readings, CalibrationFit? fit, Units units)
    {
        // Residuals come in the order of the fitted readings.
        var residuals = new Queue<double>(fit?.Points.Select(point => point.ResidualNewtons) ?? []);
        return new DocumentTable("The readings", ["series", "direction", "reference (N)", "by", "counts", "residual (N)"],
        [
            .. readings.Select(reading => (IReadOnlyList<string>)
            [
                reading.Series, reading.IsZero ? "zero" : reading.Direction == LoadDirection.Rising ? "rising" : "falling",
                Number(reading.Reference.Newtons, "0.0000"), reading.Reference.Description, Number(reading.Counts, "0.0"),
                !reading.IsZero && reading.Direction == LoadDirection.Rising && residuals.TryDequeue(out double residual) ? Number(residual, "0.00000") : "",
            ]),
        ], units.Force.IsStored ? "" : "In N, as they are kept: from these rows and the curve above the calculation can be repeated.");
    }

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
