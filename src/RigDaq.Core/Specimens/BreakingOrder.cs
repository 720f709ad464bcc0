using System.Numerics;

namespace RigDaq.Core.Specimens;

/// <summary>A place in the order of breaking.</summary>
/// <param name="Stretch">The stretch, by the name it was given.</param>
/// <param name="Piece">Which of its specimens, from 1.</param>
/// <param name="Block">The block, from 1.</param>
/// <param name="Order">The place, from 1.</param>
public sealed record BreakingPlace(string Stretch, int Piece, int Block, int Order);

/// <summary>
/// The order of breaking: in blocks, each one specimen of every stretch of every print, shuffled with a stored seed, so that drift cannot
/// pose as an effect. Which of a stretch's specimens falls in which block is shuffled too, because a piece's place in its print may matter.
/// </summary>
public static class BreakingOrder
{
    /// <summary>Makes the order; the same arguments give the same order for ever, on every machine.</summary>
    /// <param name="stretches">A name for each stretch with the number of its specimens; a print of one stretch goes by the print's
    /// id.</param>
    /// <param name="seed">What it is shuffled with.</param>
    public static IReadOnlyList<BreakingPlace> Create(IReadOnlyList<(string Stretch, int Specimens)> stretches, ulong seed)
    {
        var shuffle = new Shuffler(seed);
        var pieces = stretches.Select(stretch => (stretch.Stretch, Pieces: shuffle.Shuffled(Enumerable.Range(1, stretch.Specimens))))
            .ToArray();
        var order = new List<BreakingPlace>();
        for (int block = 0; pieces.Any(stretch => stretch.Pieces.Length > block); block++)
        {
            foreach (var stretch in shuffle.Shuffled(pieces.Where(s => s.Pieces.Length > block)))
                order.Add(new BreakingPlace(stretch.Stretch, stretch.Pieces[block], block + 1, order.Count + 1));
        }

        return order;
    }

    /// <summary>SplitMix64 (Steele, Lea and Flood 2014): the runtime's own generator may change between versions, a stored order must
    /// not.</summary>
    private sealed class Shuffler(ulong seed)
    {
        private ulong _state = seed;

        public T[] Shuffled<T>(IEnumerable<T> items)
        {
            T[] shuffled = [.. items];
            for (int i = shuffled.Length - 1; i > 0; i--)
            {
                int j = Below(i + 1);
                (shuffled[i], shuffled[j]) = (shuffled[j], shuffled[i]);
            }

            return shuffled;
        }

        private ulong Next()
        {
            ulong z = _state += 0x9E3779B97F4A7C15;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }

        /// <summary>Even below a bound: draws in the last, incomplete range are thrown away.</summary>
        private int Below(int bound)
        {
            int bits = 64 - BitOperations.LeadingZeroCount((ulong)bound);
            while (true)
            {
                ulong draw = Next() >> (64 - bits);
                if (draw < (ulong)bound) return (int)draw;
            }
        }
    }
}
