using RigDaq.Protocol.Frames;

namespace RigDaq.Protocol.Tests.Frames;

public sealed class Crc16Test
{
    // Source: catalogue of parametrised CRC algorithms, CRC-16/IBM-3740.
    [Fact]
    public void Gives_the_catalogue_check_value() => Assert.Equal(0x29B1, Crc16.Compute("123456789"u8));

    // The definition of a cyclic redundancy check: polynomial division a bit at a time (Peterson and Brown, Proc. IRE 49, 1961).
    [Fact]
    public void Every_length_gives_what_a_division_bit_by_bit_gives()
    {
        var random = new Random(1);
        for (int length = 0; length <= 70; length++)
        {
            byte[] bytes = new byte[length];
            random.NextBytes(bytes);
            int remainder = 0xFFFF;
            foreach (byte b in bytes)
            {
                remainder ^= b << 8;
                for (int bit = 0; bit < 8; bit++)
                    remainder = ((remainder << 1) ^ ((remainder & 0x8000) != 0 ? 0x1021 : 0)) & 0xFFFF;
            }

            Assert.Equal(remainder, Crc16.Compute(bytes));
        }
    }
}
