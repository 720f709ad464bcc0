using CsCheck;
using RigDaq.Protocol.Frames;

namespace RigDaq.Protocol.Tests.Frames;

public sealed class CobsTest
{
    // Source: Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999, without the closing zero.
    [Theory]
    [InlineData("00", "0101")]
    [InlineData("0000", "010101")]
    [InlineData("11220033", "0311220233")]
    [InlineData("11223344", "0511223344")]
    [InlineData("11000000", "0211010101")]
    public void Stuffs_as_the_paper_does(string plain, string stuffed)
    {
        var destination = new byte[16];
        Assert.Equal(stuffed, Convert.ToHexString(destination.AsSpan(0, Cobs.Encode(Convert.FromHexString(plain), destination))));
    }

    [Fact]
    public void Any_bytes_come_back_and_none_is_zero_between() =>
        Gen.OneOf(Gen.Byte, Gen.Const((byte)0), Gen.Const((byte)1)).Array[0, 800].Sample(plain =>
        {
            var stuffed = new byte[Cobs.EncodedLengthMax(plain.Length)];
            int length = Cobs.Encode(plain, stuffed);
            Assert.DoesNotContain((byte)0, stuffed[..length]);
            Assert.True(length <= plain.Length + 1 + (plain.Length / 254)); // the paper's bound: one byte in 254
            var back = new byte[plain.Length];
            Assert.Equal(plain.Length, Cobs.Decode(stuffed.AsSpan(0, length), back));
            Assert.Equal(plain, back);
        });

    [Fact]
    public void Any_bytes_can_be_offered_and_nothing_is_written_beyond_the_destination() =>
        Gen.Select(Gen.Byte.Array[0, 300], Gen.Int[0, 40]).Sample((source, room) =>
            Assert.InRange(Cobs.Decode(source, new byte[room]), -1, room));
}
