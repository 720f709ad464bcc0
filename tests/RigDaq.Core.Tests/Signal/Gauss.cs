namespace RigDaq.Core.Tests.Signal;

/// <summary>Normal noise from a seed (Box and Muller 1958), the same on every machine.</summary>
internal sealed class Gauss(int seed)
{
    private readonly Random _random = new(seed);

    public double Next()
    {
        double radius = Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble()));
        return radius * Math.Cos(2 * Math.PI * _random.NextDouble());
    }
}
