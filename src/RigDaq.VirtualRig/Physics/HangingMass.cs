namespace RigDaq.Virtual.Physics;

/// <summary>A weight on the hook: its force in air, and its swing, which dies away.</summary>
/// <remarks>For a weight known by its conventional mass m_c (8,000 kg/m³ in air of 1.2 kg/m³; OIML D 28): F = m_c·(1 − 1.2/8000)/(1 −
/// 1.2/ρ)·g·(1 − ρ_air/ρ). A swinging mass pulls with a force that varies at twice the pendulum's frequency.</remarks>
internal sealed class HangingMass
{
    private const double ConventionalAirDensity = 1.2;
    private const double ConventionalMassDensity = 8000;
    private readonly double _force;
    private readonly double _hungAtSeconds;
    private readonly VirtualRigOptions _options;

    public HangingMass(double conventionalKilograms, double gravity, double airDensity, double massDensity, double hungAtSeconds,
        VirtualRigOptions options)
    {
        double trueKilograms =
            conventionalKilograms * (1 - (ConventionalAirDensity / ConventionalMassDensity)) / (1 - (ConventionalAirDensity / massDensity));
        _force = trueKilograms * gravity * (1 - (airDensity / massDensity));
        _hungAtSeconds = hungAtSeconds;
        _options = options;
    }

    /// <summary>The force on the hook at a time, in newtons.</summary>
    public double ForceNewtons(double rigSeconds)
    {
        double since = rigSeconds - _hungAtSeconds;
        double swing =
            _options.SwingShare * Math.Exp(-since / _options.SwingDecaySeconds) * Math.Cos(2 * Math.PI * 2 * _options.SwingHertz * since);
        return _force * (1 + swing);
    }
}
