using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Quantities;

namespace RigDaq.Reports.Text;

/// <content>Calibrations and traces.</content>
internal static partial class ReportText
{
    public const string NoClass = "none (the figures below say why)";
    public const string StepsCaption = "The calibration step by step";
    public const string ResidualAxis = "reading − reference in %";
    public const string ResidualTitle = "Calibration: how far each reading lies from the curve";
    public const string TimeAxis = "time from contact in s";

    public const string StepsNote =
        "Error: of the mean of the rising readings, from a curve fitted without that step. Definitions as in ISO 7500-1 (from memory). Expanded uncertainty: 95 %, references, " +
        "fit, resolution, reversibility, drift, creep and temperature as far as they are known.";

    public static string ReferenceAxis(Units units) => $"reference force in {units.Force.Symbol}";

    public static string ForceAxis(Units units) => $"force in {units.Force.Symbol}";

    public static string ClassWords(CalibrationClass given, Units units) =>
        $"class {Number(given.Value)} from {units.Force.Text(given.FromNewtons, 1)} to {units.Force.Text(given.ToNewtons, 1)}, {given.Qualified}";

    public static string ExpandedWords(double leastPercent, double greatestPercent) =>
        greatestPercent - leastPercent < 0.005
            ? $"{Number(greatestPercent, 2)} % of the force (95 %)"
            : $"{Number(leastPercent, 2)} to {Number(greatestPercent, 2)} % of the force (95 %, least and greatest step)";

    public static string GreatestForceWords(double peakNewtons, double? expandedNewtons, double referenceNewtons, Units units)
    {
        string peak = units.Force.Text(peakNewtons, expandedNewtons, 1);
        double ratio = peakNewtons / referenceNewtons;
        return ratio <= 1
            ? $"{peak}, within the references"
            : $"{peak}, {Number(ratio, 1)} times the greatest reference: beyond it the curve is carried on";
    }

    public static string CurveWords(CalibrationRecord calibration) =>
        string.Join(" + ", calibration.Curve.Coefficients.Select((coefficient, i) =>
            $"{coefficient.ToString("0.#####E+0", System.Globalization.CultureInfo.InvariantCulture)} · d{(i == 0 ? "" : i == 1 ? "²" : "³")}")) + " newtons, d in counts above zero";

    public static string ResidualDescription(int points, double worstPercent) =>
        $"{points} readings; the farthest lies {Number(worstPercent, 2)} % of its reference force from the curve.";

    public static string DirectionWords(LoadDirection direction, int count) =>
        direction == LoadDirection.Rising ? $"rising, fitted (n = {count})" : $"falling (n = {count})";

    public static string SignedFine(double value) => Math.Abs(value) < 1e-9 ? "0" : Plus(Number(value));

    public static string TracesTitle(string group) => $"{group}: force against time";

    public const string TracesNote = "mark: where the last fall began";

    public static string TracesLegend(string condition, int shown, int all) =>
        $"{(condition.Length == 0 ? "all" : condition)}, n = {shown}{(shown < all ? $" of {all}" : "")}";

    public static string TracesDescription(string groups) =>
        $"Traces laid over one another from contact on; a mark shows where the last fall began. {groups}.";
}
