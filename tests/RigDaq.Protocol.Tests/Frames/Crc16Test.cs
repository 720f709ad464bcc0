using RigDaq.Protocol.Frames;

namespace RigDaq.Protocol.Tests.Frames;

public sealed class Crc16Test
{
    // Source: catalogue of parametrised CRC algorithms, CRC-16/IBM-3740.
    [Fact]
    public void Gives_the_catalogue_check_value() => Assert.Equal(0x29B1, Crc16.Compute("123456789"u8));
}
