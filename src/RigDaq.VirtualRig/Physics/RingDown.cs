namespace RigDaq.Virtual.Physics;

/// <summary>What the load train does when a force is let go all at once: it rings at its own frequency and dies away. A damped
/// cosine.</summary>
internal sealed class RingDown(VirtualRigOptions options)
{
    private const double ForgottenAfterDecays = 12;
    private double _amplitude;
    private double _startedAtSeconds;

    /// <summary>A force was let go.</summary>
    public void Strike(double letGoNewtons, double rigSeconds)
    {
        _amplitude = -letGoNewtons * options.RingShare;
        _startedAtSeconds = rigSeconds;
    }

    /// <summary>What it adds to the force on the cell, in newtons.</summary>
    public double ForceNewtons(double rigSeconds)
    {
        double since = rigSeconds - _startedAtSeconds;
        if (_amplitude == 0 || since < 0) return 0;
        if (since > ForgottenAfterDecays * options.RingDecaySeconds)
        {
            _amplitude = 0;
            return 0;
        }

        return _amplitude * Math.Exp(-since / options.RingDecaySeconds) * Math.Cos(2 * Math.PI * options.RingHertz * since);
    }
}
