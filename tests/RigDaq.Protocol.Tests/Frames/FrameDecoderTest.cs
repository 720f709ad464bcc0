using CsCheck;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Frames;

public sealed class FrameDecoderTest
{
    private static readonly Gen<byte[]> Payload = Gen.Byte.Array[1, FrameLimits.PayloadBytesMax];

    [Fact]
    public void Any_payload_comes_back_whatever_the_pieces_it_arrives_in() =>
        Gen.Select(Payload.Array[1, 6], Gen.Int[1, 300]).Sample((payloads, pieceLength) =>
        {
            byte[] stream = [.. payloads.SelectMany(Wire)];
            var decoder = new FrameDecoder();
            Assert.Equal(payloads.Select(Convert.ToHexString), Read(decoder, stream, pieceLength));
            Assert.Equal(0, decoder.FramesBad);
        });

    /// <summary>The garbage may hold zeros, whole frames by chance included: what follows it is found all the same.</summary>
    [Fact]
    public void The_first_frame_after_any_garbage_is_found() =>
        Gen.Select(Gen.Byte.Array[0, 700], Payload).Sample((garbage, payload) =>
        {
            List<string> found = Read(new FrameDecoder(), [.. garbage, .. Wire(payload)], 64);
            Assert.Equal(Convert.ToHexString(payload), found[^1]);
        });

    [Fact]
    public void Bytes_lost_or_changed_within_a_frame_cost_that_frame_only() =>
        Gen.Select(Payload, Payload, Gen.Int[1, 240], Gen.Int[0, 20], Gen.Byte[1, 255]).Sample((hit, next, at, lost, change) =>
        {
            byte[] wire = Wire(hit);
            at = Math.Min(at, wire.Length - 2);
            lost = Math.Min(lost, wire.Length - 1 - at);
            byte[] damaged = [.. wire[..at], .. wire[(at + lost)..]];
            if (lost == 0) damaged[at] ^= change;
            List<string> found = Read(new FrameDecoder(), [.. damaged, .. Wire(next)], 64);
            Assert.Equal(Convert.ToHexString(next), found[^1]);
            Assert.InRange(found.Count, 1, 3);
        });

    [Fact]
    public void No_single_bit_error_passes() =>
        Gen.Select(Payload, Gen.Int[0, (FrameLimits.WireBytesMax * 8) - 1]).Sample((payload, bit) =>
        {
            byte[] wire = Wire(payload);
            wire[bit / 8 % wire.Length] ^= (byte)(1 << (bit % 8));
            Assert.DoesNotContain(Read(new FrameDecoder(), wire, 64), found => found != Convert.ToHexString(payload));
        });

    [Fact]
    public void Reading_frames_and_their_samples_allocates_nothing()
    {
        var counts = new int[SamplesMessage.CountMax];
        var steps = new int[SamplesMessage.CountMax];
        var payload = new byte[FrameLimits.PayloadBytesMax];
        int length = new SamplesMessage(default, 1, 2, 3, 4, SamplesMessage.CountMax)
            .Write(payload, counts, steps.Select(_ => 4).ToArray());
        byte[] stream = [.. Wire(payload[..length]), 0x11, 0x22, 0x00, .. Wire([(byte)MessageType.Event, .. new byte[11]])];
        var decoder = new FrameDecoder();
        int found = 0;

        Repeat(100); // JIT and statics
        long before = GC.GetAllocatedBytesForCurrentThread();
        Repeat(1000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(1100 * 2, found);
        Assert.Equal(1100, decoder.FramesBad);

        void Repeat(int times)
        {
            for (int i = 0; i < times; i++)
            {
                ReadOnlySpan<byte> rest = stream;
                while (decoder.TryRead(ref rest, out ReadOnlySpan<byte> read))
                    if (SamplesMessage.TryRead(read, out _, counts, steps) || EventMessage.TryRead(read, out _)) found++;
            }
        }
    }

    [Fact]
    public void Writing_a_frame_allocates_nothing()
    {
        var payload = new byte[FrameLimits.PayloadBytesMax];
        var wire = new byte[FrameLimits.WireBytesMax];
        Repeat(100); // JIT and statics
        long before = GC.GetAllocatedBytesForCurrentThread();
        Repeat(1000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);

        void Repeat(int times)
        {
            for (int i = 0; i < times; i++) FrameEncoder.Encode(payload.AsSpan(0, new KeepAliveMessage(1, (ushort)i).Write(payload)), wire);
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(FrameLimits.PayloadBytesMax + 1)]
    public void A_payload_of_no_bytes_or_too_many_is_refused(int length) =>
        Assert.Throws<ArgumentException>(() => FrameEncoder.Encode(new byte[length], new byte[2 * FrameLimits.WireBytesMax]));

    private static byte[] Wire(byte[] payload)
    {
        var wire = new byte[FrameLimits.WireBytesMax];
        return wire[..FrameEncoder.Encode(payload, wire)];
    }

    private static List<string> Read(FrameDecoder decoder, byte[] stream, int pieceLength)
    {
        var found = new List<string>();
        foreach (byte[] piece in stream.Chunk(pieceLength))
        {
            ReadOnlySpan<byte> rest = piece;
            while (decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload)) found.Add(Convert.ToHexString(payload));
        }

        return found;
    }
}
