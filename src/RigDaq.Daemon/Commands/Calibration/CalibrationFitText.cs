using System.Globalization;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Text;
using RigDaq.Text;

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

        to.WriteLine(TerminalText.FitResiduals(NumberText.Significant(force.Of(polynomial.ResidualStandardDeviation), 2), force.Symbol,
            polynomial.RSquared));
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
        to.WriteLine(TerminalText.FitZeroError(Figure(fit.Figures.ZeroErrorPercent, DecimalsUnknown), fit.Figures.ZeroErrorPercent
            is not null));
        to.WriteLine();
        to.WriteLine(fit.Figures.Class is { } given ? TerminalText.FitClass(given.Sentence).In(units) : TerminalText.FitWithoutClass);
        to.WriteLine(fit.Figures.DegreeAdvice.In(units));
        foreach (Sentence warning in fit.Figures.Warnings) to.WriteLine(TerminalText.FitNote(warning).In(units));
    }

    /// <summary>The uncertainty at forces that were asked for, each with the parts that make at least a hundredth of its
    /// variance.</summary>
    public static void WriteAt(TextWriter to, IReadOnlyList<ForceUncertainty> at, Units units)
    {
        if (at.Count == 0) return;
        Unit force = units.Force;
        to.WriteLine();
        to.WriteLine(TerminalText.FitAtHead);
        foreach (ForceUncertainty one in at)
        {
            if (one.ExpandedNewtons is not { } expanded)
            {
                to.WriteLine(TerminalText.FitAtLine(force.Figure(one.ForceNewtons, 3), TerminalText.FitAtUnknown, force.Symbol,
                    TerminalText.FitNotKnown, 0));
                continue;
            }

            to.WriteLine(TerminalText.FitAtLine(force.Figure(one.ForceNewtons, 3), NumberText.Significant(force.Of(expanded), 2),
                force.Symbol, NumberText.Significant(one.ExpandedPercent!.Value, 2), one.CoverageFactor!.Value));
            double variance = one.Lines.Sum(line => line.StandardNewtons * line.StandardNewtons);
            foreach (BudgetLine line in one.Lines.OrderByDescending(line => line.StandardNewtons))
            {
                double share = 100 * line.StandardNewtons * line.StandardNewtons / variance;
                if (share >= 1) to.WriteLine(TerminalText.FitAtPart(line.Name, NumberText.Of(share, 0)));
            }
        }

        foreach (Sentence note in at.SelectMany(one => one.Notes).Distinct()) to.WriteLine(TerminalText.FitNote(note).In(units));
    }

    private static string Figure(double? value, int decimals) => value is { } known ? NumberText.Of(known, decimals)
        : TerminalText.FitNotKnown;
}
