using System.Text.Json;
using RigDaq.Protocol.Frames;

namespace RigDaq.Protocol.Tests.Vectors;

public sealed class FramingVectorTest
{
    public static TheoryData<string> ChecksumNames => [.. VectorFile.Framing.GetProperty("crc16").Names()];

    public static TheoryData<string> CobsNames => [.. VectorFile.Framing.GetProperty("cobs").Names()];

    public static TheoryData<string> FrameNames => [.. VectorFile.Framing.GetProperty("frames").Names()];

    [Theory]
    [MemberData(nameof(ChecksumNames))]
    public void The_checksum_is_the_vectors(string name)
    {
        JsonElement vector = VectorFile.Framing.GetProperty("crc16").Named(name);
        Assert.Equal(vector.Text("crc"), $"{Crc16.Compute(vector.Bytes("bytes")):X4}");
    }

    [Theory]
    [MemberData(nameof(CobsNames))]
    public void Stuffing_and_its_inverse_are_the_vectors(string name)
    {
        JsonElement vector = VectorFile.Framing.GetProperty("cobs").Named(name);
        byte[] plain = vector.Bytes("plain");
        var stuffed = new byte[Cobs.EncodedLengthMax(plain.Length)];
        Assert.Equal(vector.Text("stuffed"), Convert.ToHexString(stuffed.AsSpan(0, Cobs.Encode(plain, stuffed))));

        var back = new byte[plain.Length];
        Assert.Equal(plain.Length, Cobs.Decode(vector.Bytes("stuffed"), back));
        Assert.Equal(plain, back);
    }

    [Theory]
    [MemberData(nameof(FrameNames))]
    public void A_payload_becomes_the_vectors_frame_and_comes_back(string name)
    {
        JsonElement vector = VectorFile.Framing.GetProperty("frames").Named(name);
        var wire = new byte[FrameLimits.WireBytesMax];
        int length = FrameEncoder.Encode(vector.Bytes("payload"), wire);
        Assert.Equal(vector.Text("wire"), Convert.ToHexString(wire.AsSpan(0, length)));

        ReadOnlySpan<byte> rest = vector.Bytes("wire");
        Assert.True(new FrameDecoder().TryRead(ref rest, out ReadOnlySpan<byte> payload));
        Assert.Equal(vector.Text("payload"), Convert.ToHexString(payload));
        Assert.True(rest.IsEmpty);
    }
}
