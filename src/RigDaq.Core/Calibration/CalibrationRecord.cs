using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Callers;

namespace RigDaq.Core.Calibration;

/// <summary>A calibration as it is kept: the curve, where it holds, and what it was made from.</summary>
public sealed record CalibrationRecord
{
    /// <summary>A version 7 UUID in its usual text form.</summary>
    public required string Id { get; init; }

    /// <summary>The device whose cell and amplifier it is for, as 16 hexadecimal digits.</summary>
    public required string DeviceId { get; init; }

    /// <summary>The same without who calibrated.</summary>
    public CalibrationRecord WithoutNames() =>
        this with { By = null, Circumstances = Circumstances is { } all ? all with { Person = "" } : null };

    /// <summary>By whom it was accepted; null where that was not kept.</summary>
    public By? By { get; init; }

    /// <summary>When a person accepted it: from then on it is in force.</summary>
    public required DateTimeOffset AcceptedAt { get; init; }

    /// <summary>When it ends; one year by default.</summary>
    public required DateTimeOffset ValidUntil { get; init; }

    /// <summary>Counts to newtons.</summary>
    public required ForceCurve Curve { get; init; }

    /// <summary>The greatest reference force in newtons; beyond it the curve is extrapolated.</summary>
    public required double GreatestReferenceNewtons { get; init; }

    /// <summary>The readings it was made from, references with their sources included; empty where they are not known.</summary>
    public IReadOnlyList<CalibrationReading> Readings { get; init; } = [];

    /// <summary>How the readings were fitted.</summary>
    public FitSettings Fit { get; init; } = new();

    /// <summary>The coefficients' standard errors from the scatter alone, one a coefficient.</summary>
    public IReadOnlyList<double> StandardErrors { get; init; } = [];

    /// <summary>The residual standard deviation in newtons.</summary>
    public double? ResidualStandardDeviationNewtons { get; init; }

    /// <summary>R² about zero.</summary>
    public double? RSquared { get; init; }

    /// <summary>The standard deviation of single samples in still windows, in counts: the limits of a tare come from it.</summary>
    public double? NoiseCounts { get; init; }

    /// <summary>How good it is: figures by step, class with its range, warnings.</summary>
    public CalibrationFigures? Figures { get; init; }

    /// <summary>What the uncertainty of a force is computed from: covariances of coefficients and references, the cell's figures.</summary>
    public UncertaintyModel? Uncertainty { get; init; }

    /// <summary>Under what it was made; null where that is not known.</summary>
    public CalibrationCircumstances? Circumstances { get; init; }

    /// <summary>The uncertainty of a force, above 0, read while it rises; null where the calibration was kept without what it
    /// needs.</summary>
    public ForceUncertainty? UncertaintyAt(double forceNewtons) => Uncertainty is { } model ? ForceUncertainty.Of(model, forceNewtons)
        : null;
}
