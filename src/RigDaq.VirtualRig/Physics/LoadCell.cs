using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual.Physics;

/// <summary>The load cell with its converter: a true force becomes counts, with everything that a real one adds. Deterministic by
/// seed.</summary>
internal sealed class LoadCell(VirtualRigOptions options, SeededRandom random)
{
    private readonly int _countsMax = (1 << (options.ConverterBits - 1)) - 1;
    private readonly int _sign = options.IsCellWiredBackwards ? -1 : 1;
    private double _crept;

    /// <summary>The greatest count, where the converter stands at its end stop; the lowest is one below its negative.</summary>
    public int CountsMax => _countsMax;

    /// <summary>Lets the cell creep under a force. First order, viscoelastic: dz/dt = (F − z)/τ, solved exactly for a constant F.</summary>
    public void Creep(double forceNewtons, double seconds) =>
        _crept += (forceNewtons - _crept) * (1 - Math.Exp(-seconds / options.CreepSeconds));

    /// <summary>One conversion.</summary>
    public int Convert(double forceNewtons, double rigSeconds)
    {
        double share = forceNewtons / options.CellCapacityNewtons;
        // A parabola that is zero at no load and at capacity: a cell's deviation from its terminal line.
        double bent = options.NonLinearityPercentOfCapacity / 100 * options.CellCapacityNewtons * 4 * share * (1 - Math.Abs(share));
        double seen = forceNewtons + bent + (options.CreepPercent / 100 * _crept);
        double counts = options.ZeroCounts + (_sign * seen / options.NewtonsPerCount) + (options.NoiseCounts * random.NextGaussian())
            + (options.HumCounts * Math.Sin((2 * Math.PI * options.HumHertz * rigSeconds) + options.HumPhaseRadians))
            + (options.DriftCountsPerHour * rigSeconds / 3600);
        double step = Math.Max(1, options.QuantisationCounts);
        double rounded = Math.Round(counts / step) * step;
        return (int)Math.Clamp(rounded, -_countsMax - 1, _countsMax);
    }
}
