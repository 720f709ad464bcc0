using System.Globalization;
using RigDaq.Core.Calibration.Quality;

namespace RigDaq.Daemon.Commands;

/// <summary>What <c>calibration fit</c> prints for a person.</summary>
internal static class CalibrationFitText
{
    public static void Write(TextWriter to, CalibrationFit fit)
    {
        var polynomial = fit.Polynomial;
        int first = fit.Settings.Constant ? 0 : 1;
        to.WriteLine(FormattableString.Invariant($"Degree {fit.Settings.Degree}{(fit.Settings.Constant ? " with a constant" : "")}, {polynomial.Residuals.Count} readings:"));
        for (int i = 0; i < polynomial.Coefficients.Count; i++)
        {
            to.WriteLine(FormattableString.Invariant(
                $"  a{i + first} = {polynomial.Coefficients[i]:0.00000000E+00} N per count^{i + first}, standard error {polynomial.StandardErrors[i]:0.00E+00} (scatter alone)"));
        }

        to.WriteLine(FormattableString.Invariant($"  residual standard deviation {polynomial.ResidualStandardDeviation:G4} N, R² {polynomial.RSquared:0.0000000000}"));
        to.WriteLine();
        to.WriteLine("  reference N    error q %    repeat. b %    revers. v %    resol. a %    expanded uncertainty %");
        foreach (var step in fit.Figures.Steps)
        {
            to.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {step.ReferenceNewtons,11:0.###}    {Figure(step.IndicationErrorPercent),9}    {Figure(step.RepeatabilityPercent),11}    {Figure(step.ReversibilityPercent),11}    {Figure(step.ResolutionPercent),10}    {Figure(step.ExpandedUncertaintyPercent),22}"));
        }

        to.WriteLine("  (q: each step left out of the fit in turn)");
        to.WriteLine($"  zero error f0 {Figure(fit.Figures.ZeroErrorPercent)}{(fit.Figures.ZeroErrorPercent is null ? "" : " %")}");
        to.WriteLine();
        to.WriteLine(fit.Figures.Class is { } given ? $"Result: {given}" : "Result: no class");
        to.WriteLine(fit.Figures.DegreeAdvice);
        foreach (string warning in fit.Figures.Warnings) to.WriteLine($"Note: {warning}");
    }

    private static string Figure(double? value) => value is { } known ? known.ToString("0.0000", CultureInfo.InvariantCulture) : "not known";
}
