namespace RigDaq.Core.Tests.Statistics;

/// <summary>Seeded draws for coverage and error rates; ten times as many with RIGDAQ_LONG=1.</summary>
internal sealed class Simulation(int seed)
{
    private readonly Random _random = new(seed);

    /// <summary>Ten thousand, or a tenth of it for what is slow, unless RIGDAQ_LONG is set.</summary>
    public static int Draws(int usual) => Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1" ? Math.Max(10_000, usual) : usual;

    public double Normal(double mean, double deviation)
    {
        // Box and Muller 1958.
        double radius = Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble()));
        return mean + deviation * radius * Math.Cos(2 * Math.PI * _random.NextDouble());
    }

    public double[] Normals(int n, double mean, double deviation) => [.. Enumerable.Range(0, n).Select(_ => Normal(mean, deviation))];

    public double Weibull(double modulus, double scale) => scale * Math.Pow(-Math.Log(1 - _random.NextDouble()), 1 / modulus);

    public double[] Weibulls(int n, double modulus, double scale) => [.. Enumerable.Range(0, n).Select(_ => Weibull(modulus, scale))];

    /// <summary>Prints whose true means scatter, each with specimens that scatter within.</summary>
    public double[][] Prints(int prints, int specimens, double mean, double between, double within) =>
        [.. Enumerable.Range(0, prints).Select(_ => Normals(specimens, Normal(mean, between), within))];

    /// <summary>The share of draws in which something holds, in per cent.</summary>
    public static double Percent(int draws, Func<bool> holds)
    {
        int count = 0;
        for (int i = 0; i < draws; i++)
        {
            if (holds()) count++;
        }

        return 100.0 * count / draws;
    }

    /// <summary>Four standard errors of a share near the nominal one, in per cent: what chance alone explains.</summary>
    public static double Allowance(int draws, double nominalPercent = 95) => 4 * Math.Sqrt(nominalPercent * (100 - nominalPercent) / draws);
}
