using RigDaq.Core.Text;

namespace RigDaq.Core.Compliance;

/// <summary>What a bar gives by itself: Hooke's law, c = L/(E·A).</summary>
/// <param name="LengthMillimetres">Its free length between the grips, above 0.</param>
/// <param name="SectionSquareMillimetres">Its section, above 0.</param>
/// <param name="ModulusGigapascals">Its modulus, above 0: structural steels 200 to 210 GPa, aluminium alloys 69 to 73 GPa (common handbook
/// figures).</param>
public sealed record StiffBar(double LengthMillimetres, double SectionSquareMillimetres,
    double ModulusGigapascals = StiffBar.SteelGigapascals)
{
    /// <summary>Steel, in the middle of its range.</summary>
    public const double SteelGigapascals = 205;

    /// <summary>How well length between grips, section and modulus together are known, as a relative standard uncertainty (ours).</summary>
    public const double RelativeUncertainty = 0.05;

    /// <summary>Its own give in mm/N.</summary>
    public double MillimetresPerNewton => LengthMillimetres / (1000 * ModulusGigapascals * SectionSquareMillimetres);

    /// <summary>Refuses figures that are none.</summary>
    /// <exception cref="RefusalException">A figure is not above 0.</exception>
    public void Validate()
    {
        if (!(LengthMillimetres > 0 && SectionSquareMillimetres > 0 && ModulusGigapascals > 0 && double.IsFinite(MillimetresPerNewton)))
            throw new RefusalException(CoreText.BarNotPossible);
    }
}
