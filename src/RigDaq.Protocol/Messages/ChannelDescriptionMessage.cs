namespace RigDaq.Protocol.Messages;

/// <summary>What a channel is. A value is (raw − <see cref="Zero"/>) × <see cref="Numerator"/> / <see cref="Denominator"/> of its
/// unit.</summary>
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
    public bool IsUsable => Channel < HelloMessage.ChannelsMax && Divider > 0 && Numerator != 0 && Denominator != 0 && RawMin < RawMax
        && Resolution > 0;

    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) =>
        new PayloadWriter(payload, MessageType.ChannelDescription).U32(BootNumber).U8(Channel).U8((byte)Kind).U16(Divider)
            .U32(DelayMicroseconds).I32(Zero).I32(Numerator).U32(Denominator).I32(RawMin).I32(RawMax).U16(Resolution)
            .Text(Unit ?? "", UnitBytesMax).Text(Name ?? "", NameBytesMax).Length;

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
