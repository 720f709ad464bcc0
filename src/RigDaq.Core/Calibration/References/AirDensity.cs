namespace RigDaq.Core.Calibration.References;

/// <summary>The air that the weights hang in.</summary>
/// <param name="KilogramsPerCubicMetre">Its density.</param>
/// <param name="StandardUncertaintyKilogramsPerCubicMetre">Its standard uncertainty.</param>
public sealed record AirDensity(double KilogramsPerCubicMetre, double StandardUncertaintyKilogramsPerCubicMetre)
{
    /// <summary>The air of the conventional mass, kg/m³ (OIML D 28).</summary>
    public const double ConventionalKilogramsPerCubicMetre = 1.2;

    // Weather and room temperature together move it by up to 10 % (OIML R 111-1; from memory): rectangular.
    private const double RelativeHalfWidth = 0.1;

    /// <summary>At a height above the sea: ρ0·exp(−ρ0·g·h/p0) with p0 = 101,325 Pa (OIML R 111-1, annex E; from memory).</summary>
    public static AirDensity AtHeight(double heightMetres)
    {
        double density = ConventionalKilogramsPerCubicMetre * Math.Exp(-ConventionalKilogramsPerCubicMetre * 9.81 * heightMetres / 101_325);
        return new AirDensity(density, density * RelativeHalfWidth / Math.Sqrt(3));
    }
}
