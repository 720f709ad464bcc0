namespace RigDaq.Core.Mixed;

/// <summary>Variances on the model's scale, squared.</summary>
/// <param name="Print">Between prints.</param>
/// <param name="Stretch">Of a stretch beyond its print.</param>
/// <param name="Specimen">Of specimens within a stretch.</param>
internal readonly record struct VarianceComponents(double Print, double Stretch, double Specimen)
{
    /// <summary>How many there are.</summary>
    public const int Count = 3;

    /// <summary>By place: print, stretch, specimen.</summary>
    public double this[int i] => i switch { 0 => Print, 1 => Stretch, _ => Specimen };

    public static VarianceComponents Of(double[] values) => new(values[0], values[1], values[2]);
}
