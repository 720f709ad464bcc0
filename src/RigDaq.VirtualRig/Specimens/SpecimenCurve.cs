namespace RigDaq.Virtual.Specimens;

/// <summary>Force against a specimen's own extension while it is loaded for the first time, sliding in its grip included. Pure.</summary>
/// <remarks>Brittle: a line up to the strength. Yielding: a cubic that leaves the origin with the stiffness and reaches the peak level, a
/// half cosine down to the plateau, and the plateau up to the break. Sliding out: a line up to the holding force of the grip, which then
/// falls as the length still held (dry friction over the held length; the trade's own picture, no source).</remarks>
internal sealed class SpecimenCurve
{
    private readonly VirtualSpecimen _specimen;
    private readonly double _elastic;
    private readonly double _peak;
    private readonly double _slipForce;

    public SpecimenCurve(VirtualSpecimen specimen)
    {
        _specimen = specimen;
        _elastic = specimen.StrengthNewtons / specimen.StiffnessNewtonsPerMillimetre;
        _slipForce = (specimen.SlipOutShare ?? 1) * specimen.StrengthNewtons;
        bool yields = specimen.Behaviour == SpecimenBehaviour.Yielding;
        _peak = yields ? specimen.PeakStretch * _elastic : _elastic;
        IsSlipping = specimen.SlipOutShare is not null;
        // Only what stays below the holding force before it slides is straight: a sliding specimen is drawn as straight up to it.
        if (IsSlipping) _peak = _slipForce / specimen.StiffnessNewtonsPerMillimetre;
        EndMillimetres = IsSlipping ? _peak + specimen.GripLengthMillimetres : yields ? specimen.BreakStretch * _peak : _elastic;
    }

    /// <summary>Whether it ends by sliding out instead of parting.</summary>
    public bool IsSlipping { get; }

    /// <summary>The extension at which it parts, or at which nothing is held any more, in mm.</summary>
    public double EndMillimetres { get; }

    /// <summary>Whether the force is stiffness times extension everywhere before the end.</summary>
    public bool IsStraight => !IsSlipping && _specimen.Behaviour == SpecimenBehaviour.Brittle;

    /// <summary>The force at an extension on first loading, in newtons, for 0 up to <see cref="EndMillimetres"/>.</summary>
    public double ForceNewtons(double extensionMillimetres)
    {
        double e = Math.Min(extensionMillimetres, EndMillimetres);
        if (IsStraight) return _specimen.StiffnessNewtonsPerMillimetre * e;
        if (IsSlipping)
        {
            return e <= _peak ? _specimen.StiffnessNewtonsPerMillimetre * e
                : _slipForce * (1 - ((e - _peak) / _specimen.GripLengthMillimetres));
        }

        double strength = _specimen.StrengthNewtons;
        if (e <= _peak)
        {
            // Cubic Hermite from (0, 0) with the stiffness as its slope to (peak, strength) with slope 0.
            double s = e / _peak;
            double initial = _specimen.StiffnessNewtonsPerMillimetre * _peak;
            return (initial * s * (1 - s) * (1 - s)) + (strength * s * s * (3 - (2 * s)));
        }

        double plateau = _specimen.PlateauShare * strength;
        double softening = (e - _peak) / _peak;
        return softening >= 1 ? plateau : plateau + ((strength - plateau) * 0.5 * (1 + Math.Cos(Math.PI * softening)));
    }
}
