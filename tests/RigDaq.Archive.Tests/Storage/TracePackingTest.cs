using CsCheck;
using RigDaq.Archive.Storage;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Tests.Storage;

public sealed class TracePackingTest
{
    private static readonly Gen<RawSample> Wild =
        Gen.Select(Gen.Long, Gen.Long, Gen.Int, Gen.Int, (number, stamp, counts, steps) => new RawSample(number, stamp, counts, steps));

    private static readonly Gen<RawSample> Tame = Gen.Select(Gen.Long[0, 3], Gen.Long[-9, 9], Gen.Int[-300, 300], Gen.Int[0, 1],
        (number, stamp, counts, steps) => new RawSample(number, stamp, counts, steps));

    [Fact]
    public void Any_samples_come_back_as_they_were() =>
        Gen.OneOf(Wild, Tame, Gen.Const(default(RawSample))).Array[0, 3 * PackedColumn.Block]
            .Sample(samples => TracePacking.Unpack(TracePacking.Pack(samples)).SequenceEqual(samples), iter: 2000, seed: "0000KQ2tzhe7");

    [Fact]
    public void Any_values_of_a_channel_come_back_as_they_were() =>
        Gen.Select(Gen.Int[0, ChannelHead.ChannelsMax - 1],
                Gen.Select(Gen.Long, Gen.Int, (number, raw) => new ChannelSample(number, raw)).Array[0, 300])
            .Sample((channel, values) =>
            {
                byte[] piece = TracePacking.Pack(channel, values);
                ChannelTrace back = TracePacking.UnpackChannel(piece);
                return TracePacking.IsOfChannel(piece) && back.Index == channel && back.Samples.SequenceEqual(values);
            }, iter: 500, seed: "0000KR3tzhe8");

    [Fact]
    public void Any_bytes_are_unpacked_or_refused_and_take_no_more_memory_than_a_piece_may_hold() =>
        Gen.Byte.Array[0, 80].Sample(
            bytes =>
            {
                if (bytes.Length > 6) (bytes[0], bytes[1], bytes[2], bytes[5], bytes[6]) = (0x11, 1, 0, 0, 0);
                try
                {
                    return TracePacking.Unpack(bytes).Length <= TraceContent.SamplesAPiece;
                }
                catch (InvalidDataException)
                {
                    return true;
                }
            },
            iter: 5_000, seed: "0000KS4tzhe9");

    [Fact]
    public void A_piece_that_was_cut_or_says_more_than_it_may_hold_is_refused()
    {
        byte[] piece = TracePacking.Pack(Example.Samples(500));
        for (int length = 0; length < piece.Length; length += 7)
            Assert.Throws<InvalidDataException>(() => TracePacking.Unpack(piece.AsSpan(0, length)));
        Assert.Throws<InvalidDataException>(() => TracePacking.Unpack([.. piece, 0]));
        byte[] huge = [.. piece];
        huge[6] = 0x7F;
        Assert.Throws<InvalidDataException>(() => TracePacking.Unpack(huge));
    }

    /// <summary>
    /// Differences of independent normal readings of deviation s are normal with deviation s√2, and no code takes less than their entropy,
    /// ½ log₂(2πe·2s²) bits (Shannon 1948, for rounding much finer than s). A Rice code is near that: within 0.35 bits, heads included.
    /// </summary>
    [Theory]
    [InlineData(12)]
    [InlineData(100)]
    [InlineData(3000)]
    public void Noise_takes_hardly_more_than_its_entropy(double deviation)
    {
        const int Count = 20_000;
        var random = new Random(4);
        var samples = new RawSample[Count];
        for (int i = 0; i < Count; i++)
        {
            double normal = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            samples[i] = new RawSample(i, 12_500L * i, (int)Math.Round(deviation * normal), 2 * i);
        }

        double bits = 8.0 * TracePacking.Pack(samples).Length / Count;
        double entropy = 0.5 * Math.Log2(2 * Math.PI * Math.E * 2 * deviation * deviation);
        Assert.InRange(bits, entropy, entropy + 0.35);
    }
}
