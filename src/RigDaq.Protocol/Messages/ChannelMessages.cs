namespace RigDaq.Protocol.Messages;

/// <summary>What a channel besides the force tells of.</summary>
public enum ChannelKind : byte
{
    /// <summary>Something else; its unit and its name say what. So does every kind that is not known here.</summary>
    Other = 0,

    /// <summary>A second force, in newtons.</summary>
    Force = 1,

    /// <summary>How far the specimen's gauge length has stretched, in millimetres; positive longer.</summary>
    Extension = 2,

    /// <summary>A temperature, in degrees Celsius.</summary>
    Temperature = 3,
}

/// <summary>Asks what a channel is, and switches its values on or off. Its description comes before the answer.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="Channel">Which, from 0.</param>
/// <param name="On">Whether its values are sent while the stream is on.</param>
public readonly record struct ChannelCommand(ushort Command, byte Channel, bool On)
{
    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.Channel);
        w.U16(Command);
        w.U8(Channel);
        w.U8(On ? (byte)1 : (byte)0);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out ChannelCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Channel);
        message = new ChannelCommand(r.U16(), r.U8(), r.U8() != 0);
        return r.Whole;
    }
}

/// <summary>What a channel is. A value is (raw − <see cref="Zero"/>) × <see cref="Numerator"/> / <see cref="Denominator"/> of its unit.</summary>
public readonly record struct ChannelDescriptionMessage
{
    /// <summary>The longest unit, in UTF-8 bytes.</summary>
    public const int UnitBytesMax = 8;

    /// <summary>The longest name, in UTF-8 bytes.</summary>
    public const int NameBytesMax = 32;

    /// <summary>The start that it is of.</summary>
    public uint BootNumber { get; init; }

    /// <summary>Which channel, from 0.</summary>
    public byte Channel { get; init; }

    /// <summary>What it tells of.</summary>
    public ChannelKind Kind { get; init; }

    /// <summary>One value comes for so many conversions of the force, 1 or more.</summary>
    public ushort Divider { get; init; }

    /// <summary>How long before its stamp a value looked at what it measures, on average, in microseconds.</summary>
    public uint DelayMicroseconds { get; init; }

    /// <summary>The raw value that stands for 0 of the unit.</summary>
    public int Zero { get; init; }

    /// <summary>Not 0; negative where raw values fall as the quantity rises.</summary>
    public int Numerator { get; init; }

    /// <summary>Not 0.</summary>
    public uint Denominator { get; init; }

    /// <summary>The lowest raw value that can be believed.</summary>
    public int RawMin { get; init; }

    /// <summary>The greatest.</summary>
    public int RawMax { get; init; }

    /// <summary>The smallest difference of raw values that means something, 1 or more.</summary>
    public ushort Resolution { get; init; }

    /// <summary>The unit: "N", "mm" and "°C" for the kinds that have theirs.</summary>
    public string Unit { get; init; }

    /// <summary>A name for people.</summary>
    public string Name { get; init; }

    /// <summary>Whether values can be made of it.</summary>
    public bool IsUsable => Channel < HelloMessage.ChannelsMax && Divider > 0 && Numerator != 0 && Denominator != 0 && RawMin < RawMax && Resolution > 0;

    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.ChannelDescription);
        w.U32(BootNumber);
        w.U8(Channel);
        w.U8((byte)Kind);
        w.U16(Divider);
        w.U32(DelayMicroseconds);
        w.I32(Zero);
        w.I32(Numerator);
        w.U32(Denominator);
        w.I32(RawMin);
        w.I32(RawMax);
        w.U16(Resolution);
        w.Text(Unit ?? "", UnitBytesMax);
        w.Text(Name ?? "", NameBytesMax);
        return w.Length;
    }

    /// <summary>Reads a payload. Bytes behind the known fields are skipped.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out ChannelDescriptionMessage message)
    {
        var r = new PayloadReader(payload, MessageType.ChannelDescription);
        message = new ChannelDescriptionMessage
        {
            BootNumber = r.U32(),
            Channel = r.U8(),
            Kind = (ChannelKind)r.U8(),
            Divider = r.U16(),
            DelayMicroseconds = r.U32(),
            Zero = r.I32(),
            Numerator = r.I32(),
            Denominator = r.U32(),
            RawMin = r.I32(),
            RawMax = r.I32(),
            Resolution = r.U16(),
            Unit = r.Text(),
            Name = r.Text(),
        };
        return r.Whole;
    }
}

/// <summary>The head of a block of a channel's values, which follow it in the payload.</summary>
/// <param name="BootNumber">The start that they are of.</param>
/// <param name="Channel">Which channel, from 0.</param>
/// <param name="FirstNumber">The number of the conversion of the force that the first value belongs to; the next ones are a divider apart.</param>
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
        if (values.Length != Count || Count > CountMax) throw new ArgumentException($"A block of {Count} takes as many values, at most {CountMax}.", nameof(values));
        var w = new PayloadWriter(payload, MessageType.ChannelSamples);
        w.U32(BootNumber);
        w.U8(Channel);
        w.U32(FirstNumber);
        w.U8(Count);
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
