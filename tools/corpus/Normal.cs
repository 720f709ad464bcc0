namespace RigDaq.Corpus;

/// <summary>Random numbers from a seed, the same on every machine and in every version.</summary>
internal sealed class Normal(ulong seed)
{
    private ulong _state = seed;
    private double _spare = double.NaN;

    /// <summary>Even between 0 and 1 (SplitMix64: Steele, Lea and Flood, OOPSLA 2014).</summary>
    public double Uniform()
    {
        _state += 0x9E3779B97F4A7C15;
        ulong z = _state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        z ^= z >> 31;
        return ((z >> 11) + 0.5) / (1UL << 53);
    }

    /// <summary>Even between two values.</summary>
    public double Between(double low, double high) => low + ((high - low) * Uniform());

    /// <summary>Even in the logarithm between two values.</summary>
    public double LogBetween(double low, double high) => low * Math.Pow(high / low, Uniform());

    /// <summary>A whole number from 0 up to below <paramref name="count"/>.</summary>
    public int Pick(int count) => (int)(count * Uniform());

    /// <summary>True with a probability.</summary>
    public bool Chance(double probability) => Uniform() < probability;

    /// <summary>Normal with mean 0 and deviation 1 (Box and Muller 1958).</summary>
    public double Next()
    {
        if (!double.IsNaN(_spare))
        {
            double spare = _spare;
            _spare = double.NaN;
            return spare;
        }

        double radius = Math.Sqrt(-2 * Math.Log(Uniform()));
        (double sine, double cosine) = Math.SinCos(2 * Math.PI * Uniform());
        _spare = radius * sine;
        return radius * cosine;
    }
}
