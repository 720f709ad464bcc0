namespace RigDaq.Protocol.Messages;

/// <summary>What a device is and can do.</summary>
public readonly record struct HelloMessage
{
    /// <summary>The version that this library speaks. A device with another major version is refused.</summary>
    public const byte MajorVersion = 1;

    /// <summary>The newest minor version known here; a newer one only adds.</summary>
    public const byte MinorVersion = 2;

    /// <summary>The most channels that a device has besides its force.</summary>
    public const int ChannelsMax = 8;

    /// <summary><see cref="LineBytesPerSecond"/> of a device whose line is bound by no baud rate that it knows of.</summary>
    public const uint LineUnbound = uint.MaxValue;

    /// <summary>The longest device name, in UTF-8 bytes.</summary>
    public const int NameBytesMax = 32;

    /// <summary>Major version: frames or messages that an older reader would misread.</summary>
    public byte VersionMajor { get; init; }

    /// <summary>Minor version: additions that an older reader skips.</summary>
    public byte VersionMinor { get; init; }

    /// <summary>Drawn anew at every start, never 0.</summary>
    public uint BootNumber { get; init; }

    /// <summary>Which device this is, wherever it is plugged in.</summary>
    public ulong DeviceId { get; init; }

    /// <summary>The firmware's own version, for people.</summary>
    public ushort FirmwareVersion { get; init; }

    /// <summary>What it can do.</summary>
    public Capabilities Capabilities { get; init; }

    /// <summary>Conversions in 1,000 s: 80 samples/s is 80,000.</summary>
    public uint ConverterRateMillihertz { get; init; }

    /// <summary>The width of a conversion in bits, 8 to 24.</summary>
    public byte ConverterBits { get; init; }

    /// <summary>How long before its stamp a conversion looked at the force, on average, in microseconds.</summary>
    public uint ConverterDelayMicroseconds { get; init; }

    /// <summary>Steps in a metre of crosshead travel; 0 without motion and position.</summary>
    public uint StepsPerMetre { get; init; }

    /// <summary>The lowest force that the device ever allows, in absolute counts.</summary>
    public int HardForceCountsMin { get; init; }

    /// <summary>The greatest force that the device ever allows, in absolute counts.</summary>
    public int HardForceCountsMax { get; init; }

    /// <summary>The lowest position that the device ever allows, in steps from home.</summary>
    public int HardTravelStepsMin { get; init; }

    /// <summary>The greatest position that the device ever allows, in steps from home.</summary>
    public int HardTravelStepsMax { get; init; }

    /// <summary>The greatest speed, in steps a second.</summary>
    public uint HardSpeedStepsPerSecondMax { get; init; }

    /// <summary>The greatest acceleration, in steps a second squared.</summary>
    public uint HardAccelerationStepsPerSecondSquaredMax { get; init; }

    /// <summary>A name for people.</summary>
    public string Name { get; init; }

    /// <summary>How many channels it has besides the force, 0 to <see cref="ChannelsMax"/>; 0 before version 1.2.</summary>
    public byte Channels { get; init; }

    /// <summary>What its line carries, in bytes a second; 0 where the baud rate says it, and before version 1.2.</summary>
    public uint LineBytesPerSecond { get; init; }

    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.Hello);
        w.U8(VersionMajor).U8(VersionMinor).U32(BootNumber).U64(DeviceId).U16(FirmwareVersion).U32((uint)Capabilities)
            .U32(ConverterRateMillihertz).U8(ConverterBits).U32(ConverterDelayMicroseconds).U32(StepsPerMetre)
            .I32(HardForceCountsMin).I32(HardForceCountsMax).I32(HardTravelStepsMin).I32(HardTravelStepsMax)
            .U32(HardSpeedStepsPerSecondMax).U32(HardAccelerationStepsPerSecondSquaredMax).Text(Name ?? "", NameBytesMax);
        if (Channels == 0 && LineBytesPerSecond == 0) return w.Length;
        return w.U8(Channels).U32(LineBytesPerSecond).Length;
    }

    /// <summary>Reads only the version, whose place is the same in every major version, so that a device of another one can be named and
    /// refused instead of misread.</summary>
    public static bool TryReadVersion(ReadOnlySpan<byte> payload, out byte major, out byte minor)
    {
        var r = new PayloadReader(payload, MessageType.Hello);
        major = r.U8();
        minor = r.U8();
        return r.Whole;
    }

    /// <summary>Reads a payload. Bytes behind the known fields are skipped. Of another major version only <see cref="VersionMajor"/> and
    /// <see cref="VersionMinor"/> can be trusted: see <see cref="TryReadVersion"/>.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out HelloMessage message)
    {
        message = default;
        var r = new PayloadReader(payload, MessageType.Hello);
        var m = new HelloMessage
        {
            VersionMajor = r.U8(),
            VersionMinor = r.U8(),
            BootNumber = r.U32(),
            DeviceId = r.U64(),
            FirmwareVersion = r.U16(),
            Capabilities = (Capabilities)r.U32(),
            ConverterRateMillihertz = r.U32(),
            ConverterBits = r.U8(),
            ConverterDelayMicroseconds = r.U32(),
            StepsPerMetre = r.U32(),
            HardForceCountsMin = r.I32(),
            HardForceCountsMax = r.I32(),
            HardTravelStepsMin = r.I32(),
            HardTravelStepsMax = r.I32(),
            HardSpeedStepsPerSecondMax = r.U32(),
            HardAccelerationStepsPerSecondSquaredMax = r.U32(),
            Name = r.Text(),
        };
        if (!r.Whole) return false;
        if (r.Left >= 5) m = m with { Channels = Math.Min(r.U8(), (byte)ChannelsMax), LineBytesPerSecond = r.U32() };
        message = m;
        return true;
    }
}
