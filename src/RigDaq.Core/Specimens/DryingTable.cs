namespace RigDaq.Core.Specimens;

/// <summary>Drying temperatures in use, by kind of plastic (common practice, no source; from memory). The filament maker's sheet goes
/// before them. Drying gives off fumes and can start a fire: never unattended in a kitchen oven, and by local codes.</summary>
public static class DryingTable
{
    private static readonly (string Plastic, double LowCelsius, double HighCelsius)[] Rows =
    [
        ("PLA", 45, 55),
        ("PETG", 60, 65),
        ("ABS", 75, 80),
        ("ASA", 75, 80),
    ];

    /// <summary>The range for a kind of plastic in °C, or null where it is not in the table.</summary>
    public static (double LowCelsius, double HighCelsius)? For(string plastic)
    {
        foreach (var row in Rows)
        {
            if (string.Equals(row.Plastic, plastic.Trim(), StringComparison.OrdinalIgnoreCase)) return (row.LowCelsius, row.HighCelsius);
        }

        return null;
    }
}
