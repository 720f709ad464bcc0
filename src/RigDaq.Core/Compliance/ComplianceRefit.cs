using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Text;
using RigDaq.Core.Trace;
using RigDaq.Text;

namespace RigDaq.Core.Compliance;

/// <summary>
/// A compliance under another calibration than it was measured under: fitted anew from what is kept raw, as a further record; the first one
/// stays. Where nothing raw is kept it is scaled, but only where that is exactly the same: where all forces change by one factor.
/// </summary>
public static class ComplianceRefit
{
    // Coefficients are told with so many digits at least.
    private const double SameFactor = 1e-9;

    /// <summary>The record under a calibration.</summary>
    /// <param name="measured">As it was measured.</param>
    /// <param name="under">The calibration to read its forces by.</param>
    /// <param name="before">The calibration it was measured under; null where that is not known any more.</param>
    /// <param name="pulls">Its raw pulls; null where none are kept.</param>
    /// <param name="run">The run that it was measured from, raw; null where there is none.</param>
    /// <param name="now">When.</param>
    /// <exception cref="RefusalException">It cannot be had; the message says why and what to do.</exception>
    public static ComplianceRecord Under(ComplianceRecord measured, CalibrationRecord under, CalibrationRecord? before, BarPulls? pulls,
        PullRecord? run, DateTimeOffset now)
    {
        if (under.DeviceId != measured.DeviceId)
            throw new RefusalException(CoreText.ComplianceOfOtherDevice(measured.DeviceId, under.Id, under.DeviceId));
        if (measured.CalibrationId is null) throw new RefusalException(CoreText.ComplianceInNewtons);
        (ComplianceFit fit, string source) = pulls is not null
            ? (pulls.Fit(under.Curve, measured.Bar), CoreText.ComplianceFittedAgain(measured.Source, under.Id))
            : run is not null
                ? (ComplianceFit.Of(PullAnalysis.Analyse(run, under.Curve), measured.Bar),
                CoreText.ComplianceFittedAgain(measured.Source, under.Id))
            : before is not null && Factor(before.Curve, under.Curve) is { } factor
                ? (Scaled(measured.Fit, factor), CoreText.ComplianceScaled(measured.Source, under.Id))
            : throw new RefusalException(CoreText.ComplianceNothingRaw(measured.Id, under.Id));
        return measured with
        {
            Id = Guid.CreateVersion7(now).ToString(),
            RefittedFrom = measured.Id,
            RefittedAt = now,
            CalibrationId = under.Id,
            Source = source,
            Fit = fit,
        };
    }

    /// <summary>By how much all forces change from one curve to another; null where they do not change by one factor.</summary>
    public static double? Factor(ForceCurve before, ForceCurve after)
    {
        double factor = after.Coefficients[0] / before.Coefficients[0];
        if (!double.IsFinite(factor) || factor <= 0) return null;
        for (int i = 1; i < Math.Max(before.Coefficients.Count, after.Coefficients.Count); i++)
        {
            (double a, double b) = (factor * before.Coefficients.ElementAtOrDefault(i), after.Coefficients.ElementAtOrDefault(i));
            if (Math.Abs(a - b) > SameFactor * Math.Abs(a)) return null;
        }

        return factor;
    }

    /// <summary>
    /// The line where all its forces are so many times as great: the crosshead's way for a newton is that much less, the bar's own give
    /// stays what its length, section and modulus say. Scatter and bend are of the line, the bar's share of the uncertainty is the bar's.
    /// </summary>
    /// <exception cref="RefusalException">The bar alone gives more than the scaled line.</exception>
    public static ComplianceFit Scaled(ComplianceFit fit, double factor)
    {
        double bar = fit.BarMillimetresPerNewton ?? 0, ofBar = StiffBar.RelativeUncertainty * bar;
        double line = (fit.MillimetresPerNewton + bar) / factor;
        if (!(line > bar)) throw new RefusalException(CoreText.ComplianceBelowBars(bar, line));
        double u = fit.StandardUncertaintyMillimetresPerNewton;
        double ofLine = Math.Sqrt(Math.Max(0, (u * u) - (ofBar * ofBar))) / factor;
        double lower = fit.LowerHalfMillimetresPerNewton / factor, upper = fit.UpperHalfMillimetresPerNewton / factor;
        var warnings = new List<Sentence>();
        if (fit.BarMillimetresPerNewton is null) warnings.Add(CoreText.ComplianceHoldsBar);
        if (fit.Warnings.Count > warnings.Count)
            warnings.Add(CoreText.ComplianceNotStraight(lower, (ComplianceFit.FromPercent / 100 + 1) / 2 * fit.ToNewtons * factor, upper,
                100 * (lower - upper) / line));
        return fit with
        {
            MillimetresPerNewton = line - bar,
            StandardUncertaintyMillimetresPerNewton = double.Hypot(ofLine, ofBar),
            FromNewtons = fit.FromNewtons * factor,
            ToNewtons = fit.ToNewtons * factor,
            LowerHalfMillimetresPerNewton = lower,
            UpperHalfMillimetresPerNewton = upper,
            Points = [.. fit.Points.Select(point => point with { ForceNewtons = point.ForceNewtons * factor })],
            Warnings = warnings,
        };
    }
}
