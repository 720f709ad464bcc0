using System.Buffers.Binary;

namespace RigDaq.Protocol.Messages;

/// <summary>The head of a block of samples; the samples follow it in the payload.</summary>
/// <param name="State">The device's state when the block was closed.</param>
/// <param name="FirstNumber">The first sample's number, counting every conversion since the start, wrapping at 2^32.</param>
/// <param name="FirstStampMicroseconds">When the first sample's conversion ended, wrapping at 2^32 (71.6 min).</param>
/// <param name="PeriodNanoseconds">The converter's period as measured by the device.</param>
/// <param name="FirstSteps">The crosshead's position at the first sample, in steps.</param>
/// <param name="Count">How many samples follow, 0 to <see cref="CountMax"/>; 0 where only the state is told.</param>
public readonly record struct SamplesMessage(
    DeviceState State,
    uint FirstNumber,
    uint FirstStampMicroseconds,
    uint PeriodNanoseconds,
    int FirstSteps,
    byte Count)
{
    /// <summary>The bytes before the first sample, type byte included.</summary>
    public const int HeadBytes = 1 + DeviceState.Bytes + 17;

    /// <summary>The bytes of a sample: counts as 24 bits, steps from the sample before as 16 bits.</summary>
    public const int SampleBytes = 5;

    /// <summary>The most samples in a block.</summary>
    public const int CountMax = (Frames.FrameLimits.PayloadBytesMax - HeadBytes) / SampleBytes;

    /// <summary>Writes the payload.</summary>
    /// <param name="payload">Where to.</param>
    /// <param name="counts">One a sample, within 24 bits.</param>
    /// <param name="steps">The position at each sample; a change of more than 32,767 from one to the next is an error.</param>
    /// <returns>The number of bytes written.</returns>
    /// <exception cref="ArgumentException">The spans are not <see cref="Count"/> long.</exception>
    public int Write(Span<byte> payload, ReadOnlySpan<int> counts, ReadOnlySpan<int> steps)
    {
        if (counts.Length != Count || steps.Length != Count || Count > CountMax)
            throw new ArgumentException($"A block of {Count} takes as many counts and steps, at most {CountMax}.", nameof(counts));
        var w = new PayloadWriter(payload, MessageType.Samples);
        State.Write(ref w);
        w.U32(FirstNumber);
        w.U32(FirstStampMicroseconds);
        w.U32(PeriodNanoseconds);
        w.I32(FirstSteps);
        w.U8(Count);
        int before = FirstSteps;
        for (int i = 0; i < Count; i++)
        {
            w.I24(counts[i]);
            w.I16(checked((short)(steps[i] - before)));
            before = steps[i];
        }

        return w.Length;
    }

    /// <summary>Reads a payload's head and its samples. Bytes behind the last sample are skipped.</summary>
    /// <param name="payload">Type byte and body.</param>
    /// <param name="message">The head.</param>
    /// <param name="counts">At least <see cref="CountMax"/> long; filled up to <see cref="Count"/>.</param>
    /// <param name="steps">The same for the absolute positions.</param>
    public static bool TryRead(ReadOnlySpan<byte> payload, out SamplesMessage message, Span<int> counts, Span<int> steps)
    {
        var r = new PayloadReader(payload, MessageType.Samples);
        message = new SamplesMessage(DeviceState.Read(ref r), r.U32(), r.U32(), r.U32(), r.I32(), r.U8());
        if (!r.Whole || message.Count > CountMax || r.Left < message.Count * SampleBytes) return false;
        // One look at the length serves all samples: this is done for every sample there is.
        ReadOnlySpan<byte> samples = payload[HeadBytes..];
        int position = message.FirstSteps;
        for (int i = 0; i < message.Count; i++)
        {
            ReadOnlySpan<byte> sample = samples.Slice(i * SampleBytes, SampleBytes);
            counts[i] = sample[0] | (sample[1] << 8) | ((sbyte)sample[2] << 16);
            position += BinaryPrimitives.ReadInt16LittleEndian(sample[3..]);
            steps[i] = position;
        }

        return true;
    }
}
