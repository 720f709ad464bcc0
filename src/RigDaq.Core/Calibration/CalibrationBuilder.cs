using RigDaq.Core.Calibration.Quality;

namespace RigDaq.Core.Calibration;

/// <summary>Makes the record that is kept, once a person has accepted a fit.</summary>
public static class CalibrationBuilder
{
    /// <summary>How long a calibration holds by default, in years.</summary>
    public const int ValidYears = 1;

    /// <summary>The record of an accepted fit.</summary>
    /// <param name="fit">What the person accepted.</param>
    /// <param name="id">A version 7 UUID in its usual text form.</param>
    /// <param name="deviceId">The device, as 16 hexadecimal digits.</param>
    /// <param name="acceptedAt">When it was accepted.</param>
    /// <param name="circumstances">Under what it was made.</param>
    /// <param name="validUntil">When it ends; a year later by default.</param>
    /// <exception cref="ArgumentException">The fit has a constant: a pull takes its zero itself.</exception>
    public static CalibrationRecord Accept(CalibrationFit fit, string id, string deviceId, DateTimeOffset acceptedAt,
        CalibrationCircumstances? circumstances = null, DateTimeOffset? validUntil = null)
    {
        if (fit.Settings.Constant) throw new ArgumentException("A curve with a constant cannot be put in force: a pull takes its zero itself.", nameof(fit));
        return new CalibrationRecord
        {
            Id = id,
            DeviceId = deviceId,
            AcceptedAt = acceptedAt,
            ValidUntil = validUntil ?? acceptedAt.AddYears(ValidYears),
            Curve = fit.Curve,
            GreatestReferenceNewtons = fit.GreatestReferenceNewtons,
            Readings = fit.Readings,
            Fit = fit.Settings,
            StandardErrors = fit.Polynomial.StandardErrors,
            ResidualStandardDeviationNewtons = fit.Polynomial.ResidualStandardDeviation,
            RSquared = fit.Polynomial.RSquared,
            NoiseCounts = fit.NoiseCounts,
            Figures = fit.Figures,
            Uncertainty = fit.Uncertainty,
            Circumstances = circumstances,
        };
    }
}
