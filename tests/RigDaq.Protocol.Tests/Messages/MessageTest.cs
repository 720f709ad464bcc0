using CsCheck;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Messages;

public sealed class MessageTest
{
    private static readonly Gen<int> Counts = Gen.Int[-(1 << 23), (1 << 23) - 1];

    [Fact]
    public void A_block_of_any_samples_comes_back() =>
        Gen.Select(Gen.UInt, Gen.UInt, Gen.Int[-1_000_000_000, 1_000_000_000],
            Gen.Select(Counts, Gen.Int[short.MinValue, short.MaxValue]).Array[0, SamplesMessage.CountMax])
            .Sample((number, stamp, firstSteps, samples) =>
            {
                int[] counts = [.. samples.Select(s => s.Item1)];
                var steps = new int[samples.Length];
                for (int i = 1; i < steps.Length; i++) steps[i] = steps[i - 1] + samples[i].Item2;
                for (int i = 0; i < steps.Length; i++) steps[i] = steps[i] + firstSteps;
                var head = new SamplesMessage(default, number, stamp, 12_500_000, firstSteps, (byte)samples.Length);
                var payload = new byte[FrameLimits.PayloadBytesMax];
                int length = head.Write(payload, counts, steps);
                Assert.Equal(SamplesMessage.HeadBytes + (SamplesMessage.SampleBytes * samples.Length), length);

                var countsBack = new int[SamplesMessage.CountMax];
                var stepsBack = new int[SamplesMessage.CountMax];
                Assert.True(SamplesMessage.TryRead(payload.AsSpan(0, length), out SamplesMessage back, countsBack, stepsBack));
                Assert.Equal(head, back);
                Assert.Equal(counts, countsBack[..counts.Length]);
                Assert.Equal(steps, stepsBack[..steps.Length]);
            });

    [Fact]
    public void Any_payload_can_be_offered_to_every_reader() =>
        Gen.Select(Gen.Enum<MessageType>(), Gen.Byte.Array[0, FrameLimits.PayloadBytesMax - 1]).Sample((type, body) =>
        {
            byte[] payload = [(byte)type, .. body];
            foreach (string message in Vectors.VectorFile.Messages.EnumerateArray().Select(v => v.GetProperty("message").GetString()!)
                .Distinct())
                Vectors.WireCatalogue.Read(message, payload);
        });

    [Fact]
    public void A_name_that_is_too_long_is_cut_at_a_whole_character()
    {
        var payload = new byte[FrameLimits.PayloadBytesMax];
        int length = new HelloMessage { VersionMajor = 1, Name = new string('a', 31) + "é and more" }.Write(payload);
        Assert.True(HelloMessage.TryRead(payload.AsSpan(0, length), out HelloMessage hello));
        Assert.Equal(new string('a', 31), hello.Name);
    }

    [Fact]
    public void A_device_of_another_major_version_can_still_be_named()
    {
        byte[] fromTheFuture = [(byte)MessageType.Hello, 2, 7];
        Assert.False(HelloMessage.TryRead(fromTheFuture, out _));
        Assert.True(HelloMessage.TryReadVersion(fromTheFuture, out byte major, out byte minor));
        Assert.Equal((2, 7), (major, minor));
    }

    [Fact]
    public void A_jump_of_steps_that_does_not_fit_is_an_error_not_a_wrong_position()
    {
        var payload = new byte[FrameLimits.PayloadBytesMax];
        Assert.Throws<OverflowException>(() => new SamplesMessage(default, 0, 0, 0, 0, 2).Write(payload, [0, 0], [0, 32768]));
    }
}
