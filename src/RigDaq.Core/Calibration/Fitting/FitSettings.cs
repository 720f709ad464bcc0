namespace RigDaq.Core.Calibration.Fitting;

/// <summary>How readings are fitted.</summary>
public sealed record FitSettings
{
    /// <summary>1 to 3; a straight line by default.</summary>
    public int Degree { get; init; } = 1;

    /// <summary>Fit a constant too and take no zeros. Such a curve cannot be put in force: a pull takes its zero itself.</summary>
    public bool Constant { get; init; }

    /// <summary>A person has agreed that counts fall as the force rises.</summary>
    public bool NegativeSlopeAccepted { get; init; }
}
