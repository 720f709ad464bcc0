using System.Globalization;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Calibration.Recording;

/// <summary>The tables of a calibration record.</summary>
internal static class DocumentTables
{
    public static IEnumerable<DocumentTable> Of(CalibrationRecord record, CalibrationFit? fit, IReadOnlyList<double> budgetForces)
    {
        yield return Coefficients(record);
        if (record.Figures is { } figures) yield return Steps(figures);
        foreach (double force in budgetForces)
        {
            if (ForceUncertainty.Of(record, force) is { } uncertainty) yield return Budget(uncertainty);
        }

        if (record.Circumstances is { Weights.Count: > 0 } under) yield return Weights(under.Weights);
        if (record.Readings.Count > 0) yield return Readings(record.Readings, fit);
    }

    /// <summary>A budget as a table a person can read.</summary>
    public static DocumentTable Budget(ForceUncertainty uncertainty)
    {
        double whole = uncertainty.Lines.Sum(line => line.StandardNewtons * line.StandardNewtons);
        List<IReadOnlyList<string>> rows =
        [
            .. uncertainty.Lines.Select(line => (IReadOnlyList<string>)
            [
                line.Name, line.Distribution, Number(line.StandardNewtons, "0.00000"), line.DegreesOfFreedom is { } freedom ? Number(freedom, "0.#") : "∞",
                whole > 0 ? Number(100 * line.StandardNewtons * line.StandardNewtons / whole, "0.0") : "",
            ]),
        ];
        string total = uncertainty.ExpandedNewtons is { } expanded
            ? FormattableString.Invariant($"Together u = {uncertainty.StandardNewtons:0.00000} N, k = {uncertainty.CoverageFactor:0.00} for 95 %: U = {expanded:0.0000} N, {uncertainty.ExpandedPercent:0.000} %.")
            : "There is no figure for this force.";
        return new DocumentTable(FormattableString.Invariant($"Uncertainty of a force of {uncertainty.ForceNewtons:0.#} N"),
            ["part", "distribution", "u (N)", "degrees of freedom", "share of u² (%)"], rows, string.Join(" ", [total, .. uncertainty.Notes]));
    }

    private static DocumentTable Coefficients(CalibrationRecord record) => new("The curve", ["coefficient", "value (N per count to the power)", "standard error (scatter alone)"],
    [
        .. record.Curve.Coefficients.Select((value, i) => (IReadOnlyList<string>)
            [$"a{i + 1}", value.ToString("E9", CultureInfo.InvariantCulture), i < record.StandardErrors.Count ? record.StandardErrors[i].ToString("E2", CultureInfo.InvariantCulture) : ""]),
    ]);

    private static DocumentTable Steps(CalibrationFigures figures) => new("How good it is, by step",
        ["reference (N)", "q (%)", "worst q (%)", "b (%)", "v (%)", "a (%)", "creep (%)", "U of a force (%)", "U of the reference (%)"],
    [
        .. figures.Steps.Select(step => (IReadOnlyList<string>)
        [
            Number(step.ReferenceNewtons, "0.000"), Figure(step.IndicationErrorPercent), Figure(step.WorstIndicationErrorPercent), Figure(step.RepeatabilityPercent),
            Figure(step.ReversibilityPercent), Figure(step.ResolutionPercent), Figure(step.CreepPercent), Figure(step.ExpandedUncertaintyPercent),
            Figure(step.ReferenceExpandedUncertaintyPercent),
        ]),
    ], "A dash marks what was not looked at. q: each step left out of the fit in turn. U: expanded, 95 %.");

    private static DocumentTable Weights(IReadOnlyList<Weight> weights) => new("The weights",
        ["weight", "conventional mass (kg)", "standard uncertainty (mg)", "known by", "density (kg/m³)"],
    [
        .. weights.Select(weight => (IReadOnlyList<string>)
        [
            weight.Name, Number(weight.MassKilograms, "0.######"), Number(weight.StandardUncertaintyKilograms * 1e6, "0.##"),
            weight.Basis switch
            {
                WeightBasis.Class => $"class {weight.Class}",
                WeightBasis.Certificate => $"certificate {weight.Certificate}",
                _ => "own ±",
            },
            Number(weight.DensityKilogramsPerCubicMetre, "0"),
        ]),
    ]);

    private static DocumentTable Readings(IReadOnlyList<CalibrationReading> readings, CalibrationFit? fit)
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
        ]);
    }

    private static string Figure(double? value) => value is { } known ? Number(known, "0.0000") : "–";

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
