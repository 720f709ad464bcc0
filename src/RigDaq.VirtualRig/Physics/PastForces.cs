namespace RigDaq.Virtual.Physics;

/// <summary>The forces at the last steps, for a converter that integrates.</summary>
internal sealed class PastForces
{
    /// <summary>The most steps of a mean: twice the longest delay at the longest step, and what shorter steps need.</summary>
    public const int StepsMax = 1023;

    private readonly double[] _forces = new double[StepsMax + 1];
    private int _last;

    /// <summary>Another step is over.</summary>
    public void Add(double forceNewtons)
    {
        _last = (_last + 1) % _forces.Length;
        _forces[_last] = forceNewtons;
    }

    /// <summary>The mean over the last steps, by the trapezoid rule, so that its centre lies half of them back; 0 for the last
    /// force.</summary>
    public double Mean(int steps)
    {
        if (steps == 0) return _forces[_last];
        double sum = 0.5 * (At(0) + At(steps));
        for (int i = 1; i < steps; i++) sum += At(i);
        return sum / steps;
    }

    private double At(int stepsBack) => _forces[(_last - stepsBack + _forces.Length) % _forces.Length];
}
