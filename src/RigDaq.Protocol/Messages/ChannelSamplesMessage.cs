namespace RigDaq.Protocol.Messages;

/// <summary>The head of a block of a channel's values, which follow it in the payload.</summary>
/// <param name="BootNumber">The start that they are of.</param>
/// <param name="Channel">Which channel, from 0.</param>
/// <param name="FirstNumber">The number of the conversion of the force that the first value belongs to; the next ones are a divider
/// apart.</param>
/// <param name="Count">How many values follow, 1 to <see cref="CountMax"/>.</param>
public readonly record struct ChannelSamplesMessage(uint BootNumber, byte Channel, uint FirstNumber, byte Count)
{
    /// <summary>The bytes before the first value, type byte included.</summary>
    public const int HeadBytes = 11;

    /// <summary>The bytes of a value: 24 bits.</summary>
    public const int ValueBytes = 3;

    /// <summary>The most values in a block.</summary>
    public const int CountMax = (Frames.FrameLimits.PayloadBytesMax - HeadBytes) / ValueBytes;

    /// <summary>The raw value that says that there is none: the sensor is off, was taken away, or stands at its end.</summary>
    public const int NoValue = -(1 << 23);

    /// <summary>Writes the payload.</summary>
    /// <param name="payload">Where to.</param>
    /// <param name="values">Within 24 bits.</param>
    /// <returns>The number of bytes written.</returns>
    /// <exception cref="ArgumentException">They are not <see cref="Count"/>.</exception>
    public int Write(Span<byte> payload, ReadOnlySpan<int> values)
    {
        if (values.Length != Count
            || Count > CountMax) throw new ArgumentException($"A block of {Count} takes as many values, at most {CountMax}.",
            nameof(values));
        var w = new PayloadWriter(payload, MessageType.ChannelSamples);
        w.U32(BootNumber).U8(Channel).U32(FirstNumber).U8(Count);
        foreach (int value in values) w.I24(value);
        return w.Length;
    }

    /// <summary>Reads a payload's head and its values. Bytes behind the last value are skipped.</summary>
    /// <param name="payload">Type byte and body.</param>
    /// <param name="message">The head.</param>
    /// <param name="values">At least <see cref="CountMax"/> long; filled up to <see cref="Count"/>.</param>
    public static bool TryRead(ReadOnlySpan<byte> payload, out ChannelSamplesMessage message, Span<int> values)
    {
        var r = new PayloadReader(payload, MessageType.ChannelSamples);
        message = new ChannelSamplesMessage(r.U32(), r.U8(), r.U32(), r.U8());
        if (!r.Whole || message.Count is 0 or > CountMax) return false;
        for (int i = 0; i < message.Count; i++) values[i] = r.I24();
        return r.Whole;
    }
}
