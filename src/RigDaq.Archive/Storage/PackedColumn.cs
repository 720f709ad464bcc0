using System.Numerics;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Storage;

/// <summary>
/// One column of integers in few bits, without loss: differences of the order that leaves the least (1 to 3), folded to positive numbers,
/// in blocks of <see cref="Block"/>, each by a Rice code of its own (Rice and Plaunt 1971; as lossless audio does it): the quotient by 2^k
/// as so many zeros and a one, then the k bits of the remainder. Noise of a converter has no better short description than this: a general
/// packer at its slowest saves little more.
/// </summary>
internal static class PackedColumn
{
    /// <summary>So many values share one k.</summary>
    public const int Block = 128;

    private const int Orders = 3;
    private const int OrderBits = 2;

    // 0 says that a whole block is 0, else it is k + 1.
    private const int HeadBits = 6;
    private const int LargestK = 40;

    // So many zeros say that the value follows whole.
    private const int WholeQuotient = 24;

    /// <summary>Appends a column.</summary>
    public static void Write(BitWriter bits, ReadOnlySpan<long> values)
    {
        int order = BestOrder(values);
        bits.Write((ulong)order, OrderBits);
        Span<ulong> block = stackalloc ulong[Block];
        Differences differences = default;
        for (int at = 0; at < values.Length; at += Block)
        {
            int count = Math.Min(Block, values.Length - at);
            ulong any = 0;
            for (int i = 0; i < count; i++) any |= block[i] = Folded(differences.Next(values[at + i], order));
            if (any == 0) bits.Write(0, HeadBits);
            else WriteBlock(bits, block[..count]);
        }
    }

    /// <summary>Reads a column of as many values as there is room for.</summary>
    /// <exception cref="InvalidDataException">It is none.</exception>
    public static void Read(ref BitReader bits, Span<long> values)
    {
        int order = (int)bits.Read(OrderBits);
        if (order == 0) throw new InvalidDataException(ArchiveText.SamplesLayoutUnknown);
        for (int at = 0; at < values.Length; at += Block)
        {
            Span<long> block = values.Slice(at, Math.Min(Block, values.Length - at));
            int k = (int)bits.Read(HeadBits) - 1;
            if (k > LargestK) throw new InvalidDataException(ArchiveText.SamplesLayoutUnknown);
            if (k < 0) block.Clear();
            else ReadBlock(ref bits, block, k);
        }

        // The differences of each order, added up again.
        for (; order > 0; order--)
        {
            long sum = 0;
            for (int i = 0; i < values.Length; i++) values[i] = sum += values[i];
        }
    }

    private static void WriteBlock(BitWriter bits, ReadOnlySpan<ulong> block)
    {
        int k = BestK(block);
        bits.Write((ulong)k + 1, HeadBits);
        ulong mask = (1UL << k) - 1;
        foreach (ulong value in block)
        {
            ulong quotient = value >> k;
            if (quotient < WholeQuotient)
            {
                bits.Write(1UL << (int)quotient, (int)quotient + 1);
                bits.Write(value & mask, k);
                continue;
            }

            bits.Write(1UL << WholeQuotient, WholeQuotient + 1);
            bits.Write((uint)value, 32);
            bits.Write(value >> 32, 32);
        }
    }

    private static void ReadBlock(ref BitReader bits, Span<long> block, int k)
    {
        for (int i = 0; i < block.Length; i++)
        {
            int quotient = bits.ReadZeros(WholeQuotient);
            ulong value = quotient < WholeQuotient ? ((ulong)quotient << k) | bits.Read(k) : bits.Read(32) | (bits.Read(32) << 32);
            block[i] = (long)(value >> 1) ^ -(long)(value & 1);
        }
    }

    private static int BestOrder(ReadOnlySpan<long> values)
    {
        int best = 1;
        long least = long.MaxValue;
        for (int order = 1; order <= Orders; order++)
        {
            Differences differences = default;
            long length = 0;
            foreach (long value in values) length += Length(Folded(differences.Next(value, order)));
            if (length < least) (best, least) = (order, length);
        }

        return best;
    }

    // Around the median length: a few wild values, which go whole, do not count.
    private static int BestK(ReadOnlySpan<ulong> block)
    {
        Span<int> lengths = stackalloc int[65];
        foreach (ulong value in block) lengths[Length(value)]++;
        int median = 0;
        for (int below = lengths[0]; 2 * below < block.Length; below += lengths[median]) median++;
        int best = 0;
        ulong least = ulong.MaxValue;
        for (int k = Math.Max(0, Math.Min(median, LargestK) - 3); k <= Math.Min(median + 1, LargestK); k++)
        {
            ulong cost = 0;
            foreach (ulong value in block)
            {
                ulong quotient = value >> k;
                cost += quotient < WholeQuotient ? quotient + (ulong)k : WholeQuotient + 64;
            }

            if (cost < least) (best, least) = (k, cost);
        }

        return best;
    }

    private static int Length(ulong value) => 64 - BitOperations.LeadingZeroCount(value);

    private static ulong Folded(long value) => (ulong)((value << 1) ^ (value >> 63));

    // What a value is more than the one before, and that more than the one before, and so on; overflow wraps, and wraps back.
    private struct Differences
    {
        private long _value, _first, _second;

        public long Next(long value, int order)
        {
            long first = value - _value, second = first - _first, third = second - _second;
            (_value, _first, _second) = (value, first, second);
            return order switch { 1 => first, 2 => second, _ => third };
        }
    }
}
