using System.Globalization;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Quantities;
using RigDaq.Core.Statistics;

namespace RigDaq.Daemon.Commands;

/// <summary>What <c>calibration fit</c> prints for a person. The curve stays in N per count: it is what machines compute with.</summary>
internal static class CalibrationFitText
{
    /// <summary>Where a step's own uncertainty is not known.</summary>
    private const int DecimalsUnknown = 3;

    public static void Write(TextWriter to, CalibrationFit fit, Units units)
    {
        var polynomial = fit.Polynomial;
        Unit force = units.Force;
        int first = fit.Settings.Constant ? 0 : 1;
        to.WriteLine(FormattableString.Invariant($"Degree {fit.Settings.Degree}{(fit.Settings.Constant ? " with a constant" : "")}, {polynomial.Residuals.Count} readings:"));
        for (int i = 0; i < polynomial.Coefficients.Count; i++)
        {
            to.WriteLine(FormattableString.Invariant(
                $"  a{i + first} = {polynomial.Coefficients[i]:0.00000000E+00} N per count^{i + first}, standard error {polynomial.StandardErrors[i]:0.0E+00} (scatter alone)"));
        }

        to.WriteLine(FormattableString.Invariant(
            $"  residual standard deviation {NumberText.Significant(force.Of(polynomial.ResidualStandardDeviation), 2)} {force.Symbol}, R² {polynomial.RSquared:0.0000000000}"));
        to.WriteLine();
        to.WriteLine($"  {"reference " + force.Symbol,13}    error q %    repeat. b %    revers. v %    resol. a %    expanded uncertainty %");
        foreach (StepFigures step in fit.Figures.Steps)
        {
            // Two digits of the step's own uncertainty (JCGM 100, 7.2.6).
            int decimals = step.ExpandedUncertaintyPercent is > 0 and { } expanded ? NumberText.TwoDigits(expanded) : DecimalsUnknown;
            to.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {force.Figure(step.ReferenceNewtons, 3),13}    {Figure(step.IndicationErrorPercent, decimals),9}    {Figure(step.RepeatabilityPercent, decimals),11}    {Figure(step.ReversibilityPercent, decimals),11}    {Figure(step.ResolutionPercent, decimals),10}    {Figure(step.ExpandedUncertaintyPercent, decimals),22}"));
        }

        to.WriteLine("  (q: each step left out of the fit in turn)");
        to.WriteLine($"  zero error f0 {Figure(fit.Figures.ZeroErrorPercent, DecimalsUnknown)}{(fit.Figures.ZeroErrorPercent is null ? "" : " %")}");
        to.WriteLine();
        to.WriteLine(fit.Figures.Class is { } given ? $"Result: {UnitWords.In(given.ToString(), units)}" : "Result: no class");
        to.WriteLine(UnitWords.In(fit.Figures.DegreeAdvice, units));
        foreach (string warning in fit.Figures.Warnings) to.WriteLine($"Note: {UnitWords.In(warning, units)}");
    }

    private static string Figure(double? value, int decimals) => value is { } known ? NumberText.Of(known, decimals) : "not known";
}
