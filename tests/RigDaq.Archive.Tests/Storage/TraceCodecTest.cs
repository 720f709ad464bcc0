using CsCheck;
using RigDaq.Archive.Storage;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Tests.Storage;

public sealed class TraceCodecTest
{
    [Fact]
    public void Any_samples_come_back_as_they_were() =>
        Gen.Select(Gen.Long, Gen.Long, Gen.Int, Gen.Int, (number, stamp, counts, steps) => new RawSample(number, stamp, counts, steps))
            .Array[0, 60]
            .Sample(samples => TraceCodec.Decode(TraceCodec.Encode(samples)).SequenceEqual(samples),
                iter: 2000);

    [Fact]
    public void Any_bytes_are_decoded_or_refused_without_taking_memory() =>
        Gen.Byte.Array[0, 60].Sample(
            bytes =>
            {
                if (bytes.Length > 0) bytes[0] = 1;
                try
                {
                    return TraceCodec.Decode(bytes).Length <= bytes.Length;
                }
                catch (InvalidDataException)
                {
                    return true;
                }
            },
            iter: 20_000);
}
