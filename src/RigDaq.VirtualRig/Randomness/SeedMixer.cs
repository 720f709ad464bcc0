using System.Text;

namespace RigDaq.Virtual.Randomness;

/// <summary>Makes one seed of a seed and names, so that what is drawn for a thing depends on its name and on nothing drawn before
/// it.</summary>
internal static class SeedMixer
{
    private const ulong GoldenGamma = 0x9E3779B97F4A7C15;

    /// <summary>One step of SplitMix64 (Steele, Lea and Flood 2014).</summary>
    public static ulong Next(ref ulong state) => Finish(state += GoldenGamma);

    /// <summary>The seed of the thing with these names. The order of the names counts, and so do their borders.</summary>
    public static ulong Mix(ulong seed, params ReadOnlySpan<string> names)
    {
        ulong mixed = Finish(seed + GoldenGamma);
        foreach (string name in names)
        {
            byte[] bytes = Encoding.UTF8.GetBytes(name);
            mixed = Finish(mixed ^ ((ulong)bytes.Length * GoldenGamma));
            foreach (byte b in bytes) mixed = Finish(mixed + b + GoldenGamma);
        }

        return mixed;
    }

    private static ulong Finish(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
