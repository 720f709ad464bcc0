using System.Text.Json;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Vectors;

public sealed class MessageVectorTest
{
    public static TheoryData<string> Names => [.. VectorFile.Messages.Names()];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_message_is_written_as_the_vectors_bytes(string name)
    {
        JsonElement vector = VectorFile.Messages.Named(name);
        byte[] payload = WireCatalogue.Write(vector.Text("message"), vector.GetProperty("fields"));
        Assert.Equal(vector.Text("payload"), Convert.ToHexString(payload));

        var wire = new byte[FrameLimits.WireBytesMax];
        Assert.Equal(vector.Text("wire"), Convert.ToHexString(wire.AsSpan(0, FrameEncoder.Encode(payload, wire))));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_vectors_bytes_are_read_as_its_fields(string name)
    {
        JsonElement vector = VectorFile.Messages.Named(name);
        string message = vector.Text("message");
        Assert.Equal(WireCatalogue.Make(message, vector.GetProperty("fields")), WireCatalogue.Read(message, vector.Bytes("payload")));
    }

    [Fact]
    public void Every_type_has_a_vector()
    {
        IEnumerable<int> types = Enum.GetValues<MessageType>().Where(t => t != MessageType.None).Select(t => (int)t);
        Assert.Equal(types.Order(), VectorFile.Messages.EnumerateArray().Select(v => v.GetProperty("type").GetInt32()).Distinct().Order());
    }
}
