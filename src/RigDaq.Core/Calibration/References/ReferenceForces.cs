using RigDaq.Core.Text;

namespace RigDaq.Core.Calibration.References;

/// <summary>Makes reference forces out of what a person has: weights, a lever, a reference cell, or figures they know.</summary>
public static class ReferenceForces
{
    /// <summary>The source that all hanging weights share.</summary>
    public const string GravitySource = "local gravity";

    /// <summary>The source that all buoyancy corrections share.</summary>
    public const string AirSource = "density of the air";

    /// <summary>The source of forces whose uncertainty was entered as one figure each: taken to move together.</summary>
    public const string EnteredSource = "reference forces as entered";

    /// <summary>The lever's name where there is only one. It is shown, but it also names the share of the ratio that is kept with readings:
    /// in another language it would be another lever, so it is no text.</summary>
    public const string SoleLever = "the lever";

    /// <summary>The force of weights on one hook. By the conventional mass m_c (8000 kg/m³ in air of 1.2 kg/m³; OIML D 28, R 111-1): <c>F =
    /// m_c·(1 − 1.2/8000)/(1 − 1.2/ρ)·g·(1 − ρ_air/ρ)</c>. Weights of one certificate share their error, so theirs add linearly.</summary>
    /// <exception cref="RefusalException">A weight hangs twice, or none hangs.</exception>
    public static ReferenceForce Hanging(IReadOnlyList<Weight> weights, LocalGravity gravity, AirDensity air)
    {
        if (weights.Count == 0) throw new RefusalException(CoreText.NoWeightHangs);
        if (weights.Select(weight => weight.Name).Distinct(StringComparer.Ordinal).Count() != weights.Count)
            throw new RefusalException(CoreText.WeightHangsTwice);
        var shares = new Dictionary<string, double>(StringComparer.Ordinal);
        double force = 0;
        foreach (var weight in weights)
        {
            double one = ForceNewtons(weight.MassKilograms, weight.DensityKilogramsPerCubicMetre, gravity, air);
            double density = weight.DensityKilogramsPerCubicMetre;
            double densityUncertainty = density * Weight.DensityRelativeHalfWidth / Math.Sqrt(3);
            force += one;
            Add(SourceOf(weight), one / weight.MassKilograms * weight.StandardUncertaintyKilograms);
            Add(GravitySource, one / gravity.MetresPerSecondSquared * gravity.StandardUncertaintyMetresPerSecondSquared);
            Add(AirSource, -one / (density - air.KilogramsPerCubicMetre) * air.StandardUncertaintyKilogramsPerCubicMetre);

            // d ln F/dρ of (1 − ρ_air/ρ)/(1 − 1.2/ρ), to first order in the densities of air.
            Add($"density of {weight.Name}",
                one * (air.KilogramsPerCubicMetre - AirDensity.ConventionalKilogramsPerCubicMetre) / (density * density)
                    * densityUncertainty);
        }

        return new ReferenceForce
        {
            Newtons = force,
            Description = CoreText.ReferenceOfWeights(weights.Select(weight => weight.Name)),
            Shares = [.. shares.Where(share => share.Value != 0).Select(share => new UncertaintyShare(share.Key, share.Value))],
        };

        void Add(string source, double newtons) => shares[source] = shares.GetValueOrDefault(source) + newtons;
    }

    /// <summary>A weight's force through a lever of measured ratio.</summary>
    /// <param name="hanging">The force at the lever's long arm.</param>
    /// <param name="ratio">Force at the cell over force at the hook, above 0.</param>
    /// <param name="ratioStandardUncertainty">Its standard uncertainty, from the arms' lengths.</param>
    /// <param name="leverName">The lever's name: forces through one lever share the ratio's error.</param>
    /// <exception cref="RefusalException">A figure is out of range.</exception>
    public static ReferenceForce ThroughLever(ReferenceForce hanging, double ratio, double ratioStandardUncertainty, string leverName)
    {
        if (!(ratio > 0) || !double.IsFinite(ratio)) throw new RefusalException(CoreText.LeverRatioNotPossible);
        if (!(ratioStandardUncertainty > 0) || ratioStandardUncertainty >= ratio)
            throw new RefusalException(CoreText.LeverUncertaintyNotPossible);
        return new ReferenceForce
        {
            Newtons = hanging.Newtons * ratio,
            Description = CoreText.ReferenceThroughLever(hanging.Description, leverName, ratio),
            Shares =
            [
                .. hanging.Shares.Select(share => share with { Newtons = share.Newtons * ratio }),
                new UncertaintyShare($"ratio of {leverName}", hanging.Newtons * ratioStandardUncertainty),
            ],
        };
    }

    /// <summary>A force read from the display of a reference cell in the same wire.</summary>
    /// <param name="newtons">The display's reading.</param>
    /// <param name="cellName">The cell's name: its calibration's error is shared by all readings.</param>
    /// <param name="relativeStandardUncertainty">Of its calibration, U/(k·F).</param>
    /// <param name="displayStepNewtons">The display's last digit; each reading is rounded by its own.</param>
    /// <param name="reading">Sets this reading apart from the others.</param>
    /// <exception cref="RefusalException">A figure is out of range.</exception>
    public static ReferenceForce FromReferenceCell(double newtons, string cellName, double relativeStandardUncertainty,
        double displayStepNewtons, string reading)
    {
        if (!(newtons >= 0) || !double.IsFinite(newtons)) throw new RefusalException(CoreText.DisplayNotPossible);
        if (!(relativeStandardUncertainty is >= 0 and < 1)) throw new RefusalException(CoreText.ReferenceCellUncertaintyNotPossible);
        if (!(displayStepNewtons >= 0)) throw new RefusalException(CoreText.DisplayStepNotPossible);
        return new ReferenceForce
        {
            Newtons = newtons,
            Description = CoreText.ReferenceByCell(cellName),
            Shares =
            [
                new UncertaintyShare($"calibration of {cellName}", newtons * relativeStandardUncertainty),
                new UncertaintyShare($"rounding of {reading}", displayStepNewtons / Math.Sqrt(12)),
            ],
        };
    }

    /// <summary>A force that is simply stated. With an uncertainty it is taken to move together with the other stated ones, as forces that
    /// share gravity or a certificate do: that is the cautious reading for a straight line.</summary>
    public static ReferenceForce Entered(double newtons, double? standardUncertaintyNewtons = null) => new()
    {
        Newtons = newtons,
        Description = CoreText.ReferenceEntered,
        Shares = standardUncertaintyNewtons is { } standardUncertainty ? [new UncertaintyShare(EnteredSource, standardUncertainty)] : [],
    };

    private static double ForceNewtons(double massKilograms, double density, LocalGravity gravity, AirDensity air) =>
        massKilograms * (1 - (AirDensity.ConventionalKilogramsPerCubicMetre / Weight.ConventionalDensityKilogramsPerCubicMetre))
        / (1 - (AirDensity.ConventionalKilogramsPerCubicMetre / density)) * gravity.MetresPerSecondSquared
        * (1 - (air.KilogramsPerCubicMetre / density));

    private static string SourceOf(Weight weight) =>
        weight.Basis == WeightBasis.Certificate ? $"certificate {weight.Certificate}" : $"mass of {weight.Name}";
}
