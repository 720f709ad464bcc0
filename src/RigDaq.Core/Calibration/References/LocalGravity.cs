using RigDaq.Core.Text;

namespace RigDaq.Core.Calibration.References;

/// <summary>The acceleration of free fall where the rig stands. Standard gravity is never assumed: it can be wrong by 0.3 %.</summary>
public sealed record LocalGravity
{
    /// <summary>Relative standard uncertainty of a computed value: gravity anomalies of some tens of mGal.</summary>
    public const double ComputedRelativeStandardUncertainty = 5e-5;

    /// <summary>The least and the greatest value that occurs at the surface, m/s².</summary>
    public const double MetresPerSecondSquaredMin = 9.76, MetresPerSecondSquaredMax = 9.84;

    /// <summary>The lowest and the highest place that gravity is computed for, in metres above the sea.</summary>
    public const double HeightMetresMin = -450, HeightMetresMax = 6000;

    /// <summary>g in m/s².</summary>
    public required double MetresPerSecondSquared { get; init; }

    /// <summary>Its standard uncertainty in m/s².</summary>
    public required double StandardUncertaintyMetresPerSecondSquared { get; init; }

    /// <summary>Where it comes from, in words.</summary>
    public required string Origin { get; init; }

    /// <summary>Degrees of latitude, where it was computed.</summary>
    public double? LatitudeDegrees { get; init; }

    /// <summary>Metres above the sea, where it was computed.</summary>
    public double? HeightMetres { get; init; }

    /// <summary>Normal gravity by the closed form of GRS80 (Moritz, Bulletin géodésique 1980) less the free-air gradient 3.086e-6
    /// s⁻².</summary>
    /// <param name="latitudeDegrees">−90 to 90.</param>
    /// <param name="heightMetres">−450 to 6,000.</param>
    /// <exception cref="RefusalException">A figure is out of range.</exception>
    public static LocalGravity At(double latitudeDegrees, double heightMetres)
    {
        if (!(latitudeDegrees is >= -90 and <= 90)) throw new RefusalException(CoreText.LatitudeNotPossible);
        if (!(heightMetres is >= HeightMetresMin and <= HeightMetresMax)) throw new RefusalException(CoreText.HeightNotPossible);
        double sin = Math.Sin(latitudeDegrees * Math.PI / 180);
        double normal = 9.7803267715 * (1 + (0.001931851353 * sin * sin)) / Math.Sqrt(1 - (0.0066943800229 * sin * sin));
        double local = normal - (3.086e-6 * heightMetres);
        return new LocalGravity
        {
            MetresPerSecondSquared = local,
            StandardUncertaintyMetresPerSecondSquared = ComputedRelativeStandardUncertainty * local,
            Origin = CoreText.GravityComputed(latitudeDegrees, heightMetres),
            LatitudeDegrees = latitudeDegrees,
            HeightMetres = heightMetres,
        };
    }

    /// <summary>A value that was measured or looked up.</summary>
    /// <exception cref="RefusalException">It occurs nowhere on land, or the uncertainty is negative.</exception>
    public static LocalGravity Entered(double metresPerSecondSquared, double standardUncertaintyMetresPerSecondSquared)
    {
        if (!(metresPerSecondSquared is >= MetresPerSecondSquaredMin and <= MetresPerSecondSquaredMax))
            throw new RefusalException(CoreText.GravityNotPossible);
        if (!(standardUncertaintyMetresPerSecondSquared is >= 0 and < 0.1))
            throw new RefusalException(CoreText.GravityUncertaintyNotPossible);
        return new LocalGravity
        {
            MetresPerSecondSquared = metresPerSecondSquared,
            StandardUncertaintyMetresPerSecondSquared = standardUncertaintyMetresPerSecondSquared,
            Origin = CoreText.GravityEntered,
        };
    }
}
