using RigDaq.Core.Text;

namespace RigDaq.Core.Calibration.References;

/// <summary>What a weight's mass is known by.</summary>
public enum WeightBasis
{
    /// <summary>The class marked on it: rectangular within the class's limit.</summary>
    Class,

    /// <summary>A calibration certificate.</summary>
    Certificate,

    /// <summary>The person's own ± (a dumb-bell plate, a water can on kitchen scales): rectangular.</summary>
    Improvised,
}

/// <summary>One weight that a person owns. Its mass is the conventional mass (OIML D 28): what certificates and class marks state and what
/// scales show.</summary>
public sealed record Weight
{
    /// <summary>Relative half-width of a density that was not stated; it hardly matters near 1.2 kg/m³ of air.</summary>
    public const double DensityRelativeHalfWidth = 0.1;

    /// <summary>The density of the conventional weight, kg/m³ (OIML D 28).</summary>
    public const double ConventionalDensityKilogramsPerCubicMetre = 8000;

    /// <summary>The person's name for it, unique within a set: two pieces of one nominal value are two weights.</summary>
    public required string Name { get; init; }

    /// <summary>Conventional mass in kilograms, above 0.</summary>
    public required double MassKilograms { get; init; }

    /// <summary>Its standard uncertainty in kilograms, 0 or above.</summary>
    public required double StandardUncertaintyKilograms { get; init; }

    /// <summary>What the mass is known by.</summary>
    public required WeightBasis Basis { get; init; }

    /// <summary>The class, where it is known by one.</summary>
    public WeightClass? Class { get; init; }

    /// <summary>The certificate's number, where there is one: weights of one certificate share their error.</summary>
    public string? Certificate { get; init; }

    /// <summary>Density in kg/m³ for the buoyancy: steel and brass near 8000, cast iron 7100, water 1000.</summary>
    public double DensityKilogramsPerCubicMetre { get; init; } = ConventionalDensityKilogramsPerCubicMetre;

    /// <summary>A weight known by the class marked on it: u = MPE/√3.</summary>
    /// <exception cref="RefusalException">The table has no such nominal value.</exception>
    public static Weight OfClass(string name, double nominalKilograms, WeightClass weightClass,
        double densityKilogramsPerCubicMetre = ConventionalDensityKilogramsPerCubicMetre)
    {
        double limit = WeightClassLimits.MaximumPermissibleErrorKilograms(weightClass, nominalKilograms)
            ?? throw new RefusalException(CoreText.NotNominal(nominalKilograms));
        return Checked(new Weight
        {
            Name = name,
            MassKilograms = nominalKilograms,
            StandardUncertaintyKilograms = limit / Math.Sqrt(3),
            Basis = WeightBasis.Class,
            Class = weightClass,
            DensityKilogramsPerCubicMetre = densityKilogramsPerCubicMetre,
        });
    }

    /// <summary>A weight known by a certificate: u = U/k.</summary>
    /// <exception cref="RefusalException">A figure is out of range.</exception>
    public static Weight OfCertificate(string name, double conventionalKilograms, double expandedUncertaintyKilograms, string certificate,
        double coverageFactor = 2, double densityKilogramsPerCubicMetre = ConventionalDensityKilogramsPerCubicMetre)
    {
        if (!(coverageFactor >= 1)) throw new RefusalException(CoreText.CoverageFactorNotPossible);
        return Checked(new Weight
        {
            Name = name,
            MassKilograms = conventionalKilograms,
            StandardUncertaintyKilograms = expandedUncertaintyKilograms / coverageFactor,
            Basis = WeightBasis.Certificate,
            Certificate = certificate,
            DensityKilogramsPerCubicMetre = densityKilogramsPerCubicMetre,
        });
    }

    /// <summary>A weight with the person's own ±, treated as rectangular: u = ±/√3.</summary>
    /// <exception cref="RefusalException">A figure is out of range; an improvised weight with a ± of 0 is refused.</exception>
    public static Weight Improvised(string name, double kilograms, double plusMinusKilograms,
        double densityKilogramsPerCubicMetre = ConventionalDensityKilogramsPerCubicMetre)
    {
        if (!(plusMinusKilograms > 0)) throw new RefusalException(CoreText.ImprovisedWithoutPlusMinus);
        return Checked(new Weight
        {
            Name = name,
            MassKilograms = kilograms,
            StandardUncertaintyKilograms = plusMinusKilograms / Math.Sqrt(3),
            Basis = WeightBasis.Improvised,
            DensityKilogramsPerCubicMetre = densityKilogramsPerCubicMetre,
        });
    }

    /// <summary>The weight itself, if every figure is in its range.</summary>
    /// <exception cref="RefusalException">A figure is out of range.</exception>
    public static Weight Checked(Weight weight)
    {
        if (string.IsNullOrWhiteSpace(weight.Name)) throw new RefusalException(CoreText.WeightNeedsName);
        if (!(weight.MassKilograms > 0) || !double.IsFinite(weight.MassKilograms))
            throw new RefusalException(CoreText.WeightMassNotPossible(weight.Name));
        if (!(weight.StandardUncertaintyKilograms >= 0) || weight.StandardUncertaintyKilograms >= weight.MassKilograms)
            throw new RefusalException(CoreText.WeightUncertaintyNotPossible(weight.Name));
        if (!(weight.DensityKilogramsPerCubicMetre is >= 500 and <= 23_000))
            throw new RefusalException(CoreText.WeightDensityNotPossible(weight.Name));
        if (weight.Basis == WeightBasis.Certificate && string.IsNullOrWhiteSpace(weight.Certificate))
            throw new RefusalException(CoreText.WeightNeedsCertificate(weight.Name));
        return weight;
    }
}
