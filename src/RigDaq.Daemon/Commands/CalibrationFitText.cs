using System.Globalization;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Quantities;
using RigDaq.Core.Statistics;
using RigDaq.Daemon.Text;

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
        to.WriteLine(TerminalText.FitHead(fit.Settings.Degree, fit.Settings.Constant, polynomial.Residuals.Count));
        for (int i = 0; i < polynomial.Coefficients.Count; i++)
            to.WriteLine(TerminalText.FitCoefficient(i + first, polynomial.Coefficients[i], polynomial.StandardErrors[i]));

        to.WriteLine(TerminalText.FitResiduals(NumberText.Significant(force.Of(polynomial.ResidualStandardDeviation), 2), force.Symbol, polynomial.RSquared));
        to.WriteLine();
        to.WriteLine(TerminalText.FitStepHeads(force.Symbol));
        foreach (StepFigures step in fit.Figures.Steps)
        {
            // Two digits of the step's own uncertainty (JCGM 100, 7.2.6).
            int decimals = step.ExpandedUncertaintyPercent is > 0 and { } expanded ? NumberText.TwoDigits(expanded) : DecimalsUnknown;
            to.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {force.Figure(step.ReferenceNewtons, 3),13}    {Figure(step.IndicationErrorPercent, decimals),9}    {Figure(step.RepeatabilityPercent, decimals),11}    {Figure(step.ReversibilityPercent, decimals),11}    {Figure(step.ResolutionPercent, decimals),10}    {Figure(step.ExpandedUncertaintyPercent, decimals),22}"));
        }

        to.WriteLine(TerminalText.FitErrorMethod);
        to.WriteLine(TerminalText.FitZeroError(Figure(fit.Figures.ZeroErrorPercent, DecimalsUnknown), fit.Figures.ZeroErrorPercent is not null));
        to.WriteLine();
        to.WriteLine(fit.Figures.Class is { } given ? TerminalText.FitClass(UnitWords.In(given.ToString(), units)) : TerminalText.FitWithoutClass);
        to.WriteLine(UnitWords.In(fit.Figures.DegreeAdvice, units));
        foreach (string warning in fit.Figures.Warnings) to.WriteLine(TerminalText.FitNote(UnitWords.In(warning, units)));
    }

    private static string Figure(double? value, int decimals) => value is { } known ? NumberText.Of(known, decimals) : TerminalText.FitNotKnown;
}
