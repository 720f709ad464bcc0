using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Calibration.Fitting;

/// <summary>Whether the force was reached from below or from above.</summary>
public enum LoadDirection
{
    /// <summary>From below. These are fitted.</summary>
    Rising,

    /// <summary>From above. These tell the reversibility.</summary>
    Falling,
}

/// <summary>One reading at a known force, or a zero (reference 0).</summary>
public sealed record CalibrationReading
{
    /// <summary>The greatest counts of a 24-bit converter; a reading there is saturated.</summary>
    public const int CountsMax = 8_388_607;

    /// <summary>The least counts of a 24-bit converter.</summary>
    public const int CountsMin = -8_388_608;

    /// <summary>The series it belongs to.</summary>
    public required string Series { get; init; }

    /// <summary>From below or from above; of no account for a zero.</summary>
    public required LoadDirection Direction { get; init; }

    /// <summary>The known force.</summary>
    public required ReferenceForce Reference { get; init; }

    /// <summary>The mean counts over a still window, just after settling.</summary>
    public required double Counts { get; init; }

    /// <summary>Greatest less least count over a window of 80 samples; null where it was not looked at.</summary>
    public double? FluctuationCounts { get; init; }

    /// <summary>The mean counts after the dwell, for the creep; null where there was none.</summary>
    public double? AfterDwellCounts { get; init; }

    /// <summary>How long the dwell was, in seconds.</summary>
    public double? DwellSeconds { get; init; }

    /// <summary>The standard deviation of single samples over the still window; null where it was not looked at.</summary>
    public double? NoiseCounts { get; init; }

    /// <summary>When it was taken, on the device's clock, in microseconds; null where that is not known.</summary>
    public long? DeviceMicroseconds { get; init; }

    /// <summary>Whether this is a zero.</summary>
    public bool IsZero => Reference.Newtons == 0;
}
