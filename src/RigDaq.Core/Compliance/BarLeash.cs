namespace RigDaq.Core.Compliance;

/// <summary>
/// How far the crosshead may be sent when a stiff bar is pulled: a position that is safe to end at even where nobody looks any more, worked
/// out from the force that was last seen and where. However late what is seen is, and however late a command arrives, the force stays below
/// the device's limit, for the crosshead stands at the end of its leash.
/// </summary>
/// <remarks>The stiffness is learnt from the first newtons on. From each point on it may be twice what was seen so far (grips bed in)
/// without the limit being reached, and the force is at most doubled before it is looked at again. Before it is known it counts as
/// <see cref="StiffnessMaxNewtonsPerMillimetre"/>; on a rig yet stiffer the device's own limit is the end.</remarks>
/// <param name="aimNewtons">The force that is aimed at, above 0.</param>
/// <param name="limitNewtons">The device's force limit, above the aim.</param>
/// <param name="noiseNewtons">The standard deviation of a force, 0 or more.</param>
/// <param name="stepMillimetres">The crosshead's step, above 0: it is never sent by less.</param>
public sealed class BarLeash(double aimNewtons, double limitNewtons, double noiseNewtons, double stepMillimetres)
{
    /// <summary>Stiffer than a self-built rig is taken to be: load cells of a few kN alone give about 0.1 mm at capacity (common practice,
    /// no source).</summary>
    public const double StiffnessMaxNewtonsPerMillimetre = 20_000;

    /// <summary>From where it stands it may be so many times as stiff as was seen.</summary>
    public const double StifferTimes = 2;

    /// <summary>So much of the limit is planned with: noise and hum are on top.</summary>
    public const double LimitShare = 0.96;

    // From here on the bar is in both grips, as a share of the aim.
    private const double ContactShare = 0.03;

    // A stiffness is read over a rise of this share of the aim, and over so many steps: then it is good to a third.
    private const double RiseShare = 0.1;
    private const double StepsMin = 4;
    private const double NoisesMin = 10;

    private readonly List<(double Position, double Force)> _seen = [];

    /// <summary>The greatest stiffness seen, in N/mm; null before any.</summary>
    public double? StiffnessNewtonsPerMillimetre { get; private set; }

    private double Stiffness => StiffnessNewtonsPerMillimetre ?? StiffnessMaxNewtonsPerMillimetre;

    /// <summary>Learns the stiffness while it is pulled.</summary>
    /// <param name="positionMillimetres">Where the crosshead was, apart being positive.</param>
    /// <param name="forceNewtons">The force there, above zero: the middle of a few samples.</param>
    public void See(double positionMillimetres, double forceNewtons)
    {
        if (forceNewtons < Math.Max(ContactShare * aimNewtons, NoisesMin * noiseNewtons)) return;
        double rise = Math.Max(RiseShare * aimNewtons, NoisesMin * noiseNewtons);
        for (int i = _seen.Count - 1; i >= 0; i--)
        {
            (double way, double risen) = (positionMillimetres - _seen[i].Position, forceNewtons - _seen[i].Force);
            if (risen < rise || way < StepsMin * stepMillimetres) continue;
            StiffnessNewtonsPerMillimetre = Math.Max(StiffnessNewtonsPerMillimetre ?? 0, risen / way);
            break;
        }

        _seen.Add((positionMillimetres, forceNewtons));
    }

    /// <summary>The furthest position that the crosshead may be sent to, apart.</summary>
    /// <inheritdoc cref="See"/>
    public double Apart(double positionMillimetres, double forceNewtons)
    {
        double force = Math.Max(0, forceNewtons);
        double untilLimit = ((LimitShare * limitNewtons) - force) / StifferTimes;
        double more = Math.Min(Math.Min(aimNewtons - force, untilLimit), Math.Max(force, RiseShare * aimNewtons));
        return positionMillimetres + Math.Max(more / Stiffness, stepMillimetres);
    }

    /// <summary>The furthest position that it may be sent back to: at the greatest stiffness seen the force is gone there and the bar is
    /// not pushed, for it gives more as the force falls.</summary>
    /// <inheritdoc cref="See" />
    public double Together(double positionMillimetres, double forceNewtons) =>
        positionMillimetres - Math.Max(Math.Max(0, forceNewtons) / Stiffness, stepMillimetres);
}
