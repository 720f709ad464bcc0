namespace RigDaq.Core.Calibration.References;

/// <summary>How far a weight of a class may lie from its nominal value (OIML R 111-1:2004, table 1, rows 10 g to 50 kg).</summary>
public static class WeightClassLimits
{
    private static readonly (double NominalGrams, double[] Milligrams)[] Rows =
    [
        (50_000, [80, 250, 800, 2_500, 8_000, 25_000]),
        (20_000, [30, 100, 300, 1_000, 3_000, 10_000]),
        (10_000, [16, 50, 160, 500, 1_600, 5_000]),
        (5_000, [8, 25, 80, 250, 800, 2_500]),
        (2_000, [3, 10, 30, 100, 300, 1_000]),
        (1_000, [1.6, 5, 16, 50, 160, 500]),
        (500, [0.8, 2.5, 8, 25, 80, 250]),
        (200, [0.3, 1, 3, 10, 30, 100]),
        (100, [0.16, 0.5, 1.6, 5, 16, 50]),
        (50, [0.1, 0.3, 1, 3, 10, 30]),
        (20, [0.08, 0.25, 0.8, 2.5, 8, 25]),
        (10, [0.06, 0.2, 0.6, 2, 6, 20]),
    ];

    /// <summary>The nominal values of the table, in kilograms, greatest first.</summary>
    public static IReadOnlyList<double> NominalKilograms { get; } = [.. Rows.Select(row => row.NominalGrams / 1000)];

    /// <summary>The maximum permissible error ±δm in kilograms; null where the table has no such nominal value.</summary>
    /// <param name="weightClass">The class marked on the weight.</param>
    /// <param name="nominalKilograms">The nominal value marked on it.</param>
    public static double? MaximumPermissibleErrorKilograms(WeightClass weightClass, double nominalKilograms)
    {
        foreach (var (nominalGrams, milligrams) in Rows)
        {
            // A nominal value is a round number: the tolerance only takes up binary rounding.
            if (Math.Abs((nominalKilograms * 1000) - nominalGrams) <= 1e-9 * nominalGrams) return milligrams[(int)weightClass] * 1e-6;
        }

        return null;
    }
}
