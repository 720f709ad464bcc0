using RigDaq.Core.Signal;

namespace RigDaq.Benchmarks.ArchiveSize;

/// <summary>
/// Samples as a person would lay them out for a general packer: columns of differences, bytes of the same weight together.
/// </summary>
internal static class Columns
{
    public static byte[] Of(RawSample[][] traces)
    {
        var bytes = new List<byte>();
        foreach (RawSample[] trace in traces)
        {
            Add(bytes, trace, sample => sample.Number);
            Add(bytes, trace, sample => sample.DeviceMicroseconds);
            Add(bytes, trace, sample => sample.Counts);
            Add(bytes, trace, sample => sample.CrossheadSteps);
        }

        return [.. bytes];
    }

    private static void Add(List<byte> bytes, RawSample[] trace, Func<RawSample, long> value)
    {
        int[] differences = [.. trace.Select((sample, i) => (int)(value(sample) - (i == 0 ? 0 : value(trace[i - 1]))))];
        for (int shift = 0; shift < 32; shift += 8) bytes.AddRange(differences.Select(difference => (byte)(Folded(difference) >> shift)));
    }

    /// <summary>Small numbers of either sign become small numbers.</summary>
    private static uint Folded(int value) => (uint)((value << 1) ^ (value >> 31));
}
