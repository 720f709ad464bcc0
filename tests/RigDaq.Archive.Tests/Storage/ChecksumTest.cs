using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Tests.Storage;

public sealed class ChecksumTest
{
    // RFC 3720 (iSCSI), appendix B.4, gives these; the check value for the nine digits is the one the CRC catalogues list.
    [Fact]
    public void Agrees_with_the_examples_of_RFC_3720()
    {
        Assert.Equal(0x8A9136AAu, Checksum.Of(new byte[32]));
        Assert.Equal(0x62A8AB43u, Checksum.Of(Enumerable.Repeat((byte)0xFF, 32).ToArray()));
        Assert.Equal(0x46DD794Eu, Checksum.Of(Enumerable.Range(0, 32).Select(i => (byte)i).ToArray()));
        Assert.Equal(0x113FDB5Cu, Checksum.Of(Enumerable.Range(0, 32).Select(i => (byte)(31 - i)).ToArray()));
        Assert.Equal(0xE3069283u, Checksum.Of("123456789"u8));
    }

    [Fact]
    public void Of_two_stretches_is_that_of_the_whole()
    {
        byte[] bytes = [.. Enumerable.Range(0, 100).Select(i => (byte)(i * 7))];
        for (int cut = 0; cut <= bytes.Length; cut++) Assert.Equal(Checksum.Of(bytes),
            Checksum.Of(bytes.AsSpan(0, cut), bytes.AsSpan(cut)));
    }
}
