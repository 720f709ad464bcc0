using System.Text.Json;
using RigDaq.Protocol.Frames;

namespace RigDaq.Protocol.Tests.Vectors;

public sealed class HostileVectorTest
{
    public static TheoryData<string> StreamNames => [.. VectorFile.Hostile.GetProperty("streams").Names()];

    public static TheoryData<string> PayloadNames => [.. VectorFile.Hostile.GetProperty("payloads").Names()];

    public static TheoryData<string> StuffingNames => [.. VectorFile.Hostile.GetProperty("stuffingThatFails").Names()];

    [Theory]
    [MemberData(nameof(StreamNames))]
    public void A_stream_gives_the_vectors_frames_and_counts_the_rest(string name)
    {
        JsonElement vector = VectorFile.Hostile.GetProperty("streams").Named(name);
        IEnumerable<string?> expected = vector.GetProperty("payloads").EnumerateArray().Select(p => p.GetString());
        foreach (int pieceLength in (int[])[int.MaxValue, 7, 1])
        {
            var decoder = new FrameDecoder();
            Assert.Equal(expected, PayloadsOf(decoder, vector.Bytes("bytes"), pieceLength));
            Assert.Equal(vector.GetProperty("bad").GetInt64(), decoder.FramesBad);
        }
    }

    [Theory]
    [MemberData(nameof(PayloadNames))]
    public void A_payload_is_read_or_skipped_as_the_vector_says(string name)
    {
        JsonElement vector = VectorFile.Hostile.GetProperty("payloads").Named(name);
        string message = vector.Text("message");
        object? expected = vector.Text("outcome") == "read" ? WireCatalogue.Make(message, vector.GetProperty("fields")) : null;
        Assert.Equal(expected, WireCatalogue.Read(message, vector.Bytes("payload")));
    }

    [Theory]
    [MemberData(nameof(StuffingNames))]
    public void Wrong_stuffing_is_refused(string name)
    {
        JsonElement vector = VectorFile.Hostile.GetProperty("stuffingThatFails").Named(name);
        Assert.Equal(-1, Cobs.Decode(vector.Bytes("stuffed"), new byte[FrameLimits.ContentBytesMax]));
    }

    private static List<string> PayloadsOf(FrameDecoder decoder, byte[] stream, int pieceLength)
    {
        var found = new List<string>();
        for (int at = 0; at < stream.Length;)
        {
            int length = Math.Min(pieceLength, stream.Length - at);
            ReadOnlySpan<byte> rest = stream.AsSpan(at, length);
            while (decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload)) found.Add(Convert.ToHexString(payload));
            at += length;
        }

        return found;
    }
}
