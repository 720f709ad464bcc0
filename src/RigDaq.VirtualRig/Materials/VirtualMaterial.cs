namespace RigDaq.Virtual;

/// <summary>What a virtual filament's strength truly is: a mean for each condition and setting, and how single specimens scatter about
/// it.</summary>
public sealed record VirtualMaterial
{
    /// <summary>The filament's name.</summary>
    public required string Name { get; init; }

    /// <summary>The mean strength at the reference setting, in MPa, before a condition's factor; above 0.</summary>
    public required double MeanMegapascals { get; init; }

    /// <summary>The setting at which that mean holds.</summary>
    public decimal ReferenceSetting { get; init; }

    /// <summary>How the mean goes with the setting, in per cent of the reference mean for one unit of the setting.</summary>
    public double PercentPerSettingUnit { get; init; }

    /// <summary>How the mean bends with the setting, in per cent of the reference mean for the square of one unit.</summary>
    public double PercentPerSettingUnitSquared { get; init; }

    /// <summary>A factor on the mean for each condition; 1 for one that is not named.</summary>
    public IReadOnlyDictionary<string, double> ConditionFactors { get; init; } = new Dictionary<string, double>();

    /// <summary>The Weibull modulus of single specimens about their print's mean; 2 to 200. 20 is a scatter of about 6 %.</summary>
    public double WeibullModulus { get; init; } = 20;

    /// <summary>The standard deviation between prints of one material and condition, in per cent of the mean, 0 to 20; all stretches of a
    /// print share it.</summary>
    public double PrintToPrintPercent { get; init; }

    /// <summary>The standard deviation of a print's stretches about what the print and their setting ask for, in per cent of the mean, 0 to
    /// 20.</summary>
    public double StretchPercent { get; init; }

    /// <summary>How its specimens fail, and the rest of their figures; label and strength are replaced.</summary>
    public VirtualSpecimen Pattern { get; init; } = new() { Label = "pattern", StrengthNewtons = 1 };

    /// <summary>The mean strength of all specimens that could be made there, in MPa: the truth.</summary>
    /// <exception cref="ArgumentException">The figures give a mean that is not above 0.</exception>
    public double TrueMeanMegapascals(string condition, decimal? setting)
    {
        double from = setting is { } value ? (double)(value - ReferenceSetting) : 0;
        double share = 1 + ((PercentPerSettingUnit * from) + (PercentPerSettingUnitSquared * from * from)) / 100;
        double mean = MeanMegapascals * share * ConditionFactors.GetValueOrDefault(condition, 1);
        return mean > 0 && double.IsFinite(mean)
            ? mean
            : throw new ArgumentException($"Material {Name} has no strength above 0 at setting {setting}, condition {condition}.");
    }
}
