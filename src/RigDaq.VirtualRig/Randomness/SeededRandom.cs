using System.Numerics;

namespace RigDaq.Virtual.Randomness;

/// <summary>Random figures that are the same on every machine and in every version for the same seed (unlike System.Random, whose sequence
/// is nobody's promise).</summary>
/// <remarks>xoshiro256** seeded by SplitMix64; source: Blackman and Vigna, ACM Transactions on Mathematical Software 47(4), 2021. Not safe
/// for concurrent use.</remarks>
public sealed class SeededRandom
{
    private const double TwoToMinus53 = 1.0 / (1L << 53);
    private ulong _a, _b, _c, _d;
    private double _spareGaussian = double.NaN;

    /// <summary>Starts a sequence.</summary>
    public SeededRandom(ulong seed)
    {
        _a = SeedMixer.Next(ref seed);
        _b = SeedMixer.Next(ref seed);
        _c = SeedMixer.Next(ref seed);
        _d = SeedMixer.Next(ref seed);
    }

    /// <summary>The next 64 random bits.</summary>
    public ulong NextBits()
    {
        ulong result = BitOperations.RotateLeft(_b * 5, 7) * 9;
        ulong t = _b << 17;
        _c ^= _a;
        _d ^= _b;
        _b ^= _c;
        _a ^= _d;
        _c ^= t;
        _d = BitOperations.RotateLeft(_d, 45);
        return result;
    }

    /// <summary>Uniform above 0 and below 1: never an end, so that its logarithm is finite.</summary>
    public double NextUniform() => ((NextBits() >> 11) + 0.5) * TwoToMinus53;

    /// <summary>Standard normal (polar method, Marsaglia and Bray 1964).</summary>
    public double NextGaussian()
    {
        if (!double.IsNaN(_spareGaussian))
        {
            double spare = _spareGaussian;
            _spareGaussian = double.NaN;
            return spare;
        }

        double x, y, square;
        do
        {
            x = (2 * NextUniform()) - 1;
            y = (2 * NextUniform()) - 1;
            square = (x * x) + (y * y);
        }
        while (square is >= 1 or 0);
        double factor = Math.Sqrt(-2 * Math.Log(square) / square);
        _spareGaussian = y * factor;
        return x * factor;
    }
}
