using System.Globalization;
using System.Text.Json;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Vectors;

/// <summary>Every message of the wire by its name in the vectors: made from fields, written and read.</summary>
internal static class WireCatalogue
{
    public delegate int Writer(Span<byte> payload);

    private delegate bool Reader<T>(ReadOnlySpan<byte> payload, out T message);

    /// <summary>The payload that our codec writes for a vector's fields.</summary>
    public static byte[] Write(string message, JsonElement fields)
    {
        var payload = new byte[FrameLimits.PayloadBytesMax];
        return payload[..WriterOf(message, new Fields(fields))(payload)];
    }

    /// <summary>What our codec reads from a payload, or null where it skips it.</summary>
    public static object? Read(string message, byte[] payload) => message switch
    {
        "Hello" => Read<HelloMessage>(HelloMessage.TryRead, payload),
        "Samples" => ReadSamples(payload),
        "Event" => Read<EventMessage>(EventMessage.TryRead, payload),
        "Answer" => Read<AnswerMessage>(AnswerMessage.TryRead, payload),
        "ChannelDescription" => Read<ChannelDescriptionMessage>(ChannelDescriptionMessage.TryRead, payload),
        "ChannelSamples" => ReadChannel(payload),
        "Channel" => Read<ChannelCommand>(ChannelCommand.TryRead, payload),
        "AskHello" => Read<AskHelloCommand>(AskHelloCommand.TryRead, payload),
        "KeepAlive" => Read<KeepAliveMessage>(KeepAliveMessage.TryRead, payload),
        "SetLimits" => Read<SetLimitsCommand>(SetLimitsCommand.TryRead, payload),
        "Move" => Read<MoveCommand>(MoveCommand.TryRead, payload),
        "Stop" => Read<StopCommand>(StopCommand.TryRead, payload),
        "Home" => Read<HomeCommand>(HomeCommand.TryRead, payload),
        "AcknowledgeEvent" => Read<AcknowledgeEventMessage>(AcknowledgeEventMessage.TryRead, payload),
        "ClearFaults" => Read<ClearFaultsCommand>(ClearFaultsCommand.TryRead, payload),
        "Feed" => Read<FeedCommand>(FeedCommand.TryRead, payload),
        "Stream" => Read<StreamCommand>(StreamCommand.TryRead, payload),
        _ => throw new ArgumentException($"No message is named {message}.", nameof(message)),
    };

    /// <summary>The message that a vector's fields describe.</summary>
    public static object Make(string message, JsonElement fields) => Make(message, new Fields(fields));

    private static object? Read<T>(Reader<T> reader, byte[] payload)
        where T : struct => reader(payload, out T message) ? message : null;

    private static Block? ReadSamples(byte[] payload)
    {
        var counts = new int[SamplesMessage.CountMax];
        var steps = new int[SamplesMessage.CountMax];
        return SamplesMessage.TryRead(payload, out SamplesMessage head, counts, steps)
            ? new Block(head, string.Join(' ', counts[..head.Count]), string.Join(' ', steps[..head.Count]))
            : null;
    }

    private static ChannelBlock? ReadChannel(byte[] payload)
    {
        var values = new int[ChannelSamplesMessage.CountMax];
        return ChannelSamplesMessage.TryRead(payload, out ChannelSamplesMessage head, values)
            ? new ChannelBlock(head, string.Join(' ', values[..head.Count]))
            : null;
    }

    private static Writer WriterOf(string message, Fields f) => Make(message, f) switch
    {
        HelloMessage m => m.Write,
        Block m => payload => m.Head.Write(payload, f.List("counts"), f.List("steps")),
        ChannelBlock m => payload => m.Head.Write(payload, f.List("values")),
        ChannelDescriptionMessage m => m.Write,
        ChannelCommand m => m.Write,
        EventMessage m => m.Write,
        AnswerMessage m => m.Write,
        AskHelloCommand m => m.Write,
        KeepAliveMessage m => m.Write,
        SetLimitsCommand m => m.Write,
        MoveCommand m => m.Write,
        StopCommand m => m.Write,
        HomeCommand m => m.Write,
        AcknowledgeEventMessage m => m.Write,
        ClearFaultsCommand m => m.Write,
        FeedCommand m => m.Write,
        StreamCommand m => m.Write,
        _ => throw new ArgumentException($"No message is named {message}.", nameof(message)),
    };

    private static object Make(string message, Fields f) => message switch
    {
        "Hello" => new HelloMessage
        {
            VersionMajor = f.U8("versionMajor"),
            VersionMinor = f.U8("versionMinor"),
            BootNumber = f.U32("bootNumber"),
            DeviceId = f.Hex64("deviceId"),
            FirmwareVersion = f.U16("firmwareVersion"),
            Capabilities = (Capabilities)f.U32("capabilities"),
            ConverterRateMillihertz = f.U32("converterRateMillihertz"),
            ConverterBits = f.U8("converterBits"),
            ConverterDelayMicroseconds = f.U32("converterDelayMicroseconds"),
            StepsPerMetre = f.U32("stepsPerMetre"),
            HardForceCountsMin = f.I32("hardForceCountsMin"),
            HardForceCountsMax = f.I32("hardForceCountsMax"),
            HardTravelStepsMin = f.I32("hardTravelStepsMin"),
            HardTravelStepsMax = f.I32("hardTravelStepsMax"),
            HardSpeedStepsPerSecondMax = f.U32("hardSpeedStepsPerSecondMax"),
            HardAccelerationStepsPerSecondSquaredMax = f.U32("hardAccelerationStepsPerSecondSquaredMax"),
            Name = f.Text("name"),
            Channels = f.Has("channels") ? f.U8("channels") : (byte)0,
            LineBytesPerSecond = f.Has("channels") ? f.U32("lineBytesPerSecond") : 0,
        },
        "ChannelDescription" => new ChannelDescriptionMessage
        {
            BootNumber = f.U32("bootNumber"),
            Channel = f.U8("channel"),
            Kind = (ChannelKind)f.U8("kind"),
            Divider = f.U16("divider"),
            DelayMicroseconds = f.U32("delayMicroseconds"),
            Zero = f.I32("zero"),
            Numerator = f.I32("numerator"),
            Denominator = f.U32("denominator"),
            RawMin = f.I32("rawMin"),
            RawMax = f.I32("rawMax"),
            Resolution = f.U16("resolution"),
            Unit = f.Text("unit"),
            Name = f.Text("name"),
        },
        "ChannelSamples" => new ChannelBlock(
            new ChannelSamplesMessage(f.U32("bootNumber"), f.U8("channel"), f.U32("firstNumber"), (byte)f.List("values").Length),
            string.Join(' ', f.List("values"))),
        "Channel" => new ChannelCommand(f.U16("command"), f.U8("channel"), f.U8("on") != 0),
        "Samples" => new Block(
            new SamplesMessage(State(f), f.U32("firstNumber"), f.U32("firstStampMicroseconds"), f.U32("periodNanoseconds"),
                f.I32("firstSteps"), (byte)f.List("counts").Length),
            string.Join(' ', f.List("counts")),
            string.Join(' ', f.List("steps"))),
        "Event" => new EventMessage(f.U16("number"), (DeviceEventCode)f.U8("code"), f.U32("stampMicroseconds"), f.I32("detail")),
        "Answer" => new AnswerMessage(f.U16("command"), (MessageType)f.U8("type"), (AnswerResult)f.U8("result"), f.U32("detail")),
        "AskHello" => new AskHelloCommand(f.U16("command"), f.U8("versionMajor"), f.U8("versionMinor")),
        "KeepAlive" => new KeepAliveMessage(f.U32("bootNumber"), f.U16("counter")),
        "SetLimits" => new SetLimitsCommand(
            f.U16("command"), f.U16("limitsId"), f.I32("forceCountsMin"), f.I32("forceCountsMax"), f.I32("travelStepsMin"),
                f.I32("travelStepsMax"),
            f.U32("speedStepsPerSecondMax"), f.U32("accelerationStepsPerSecondSquaredMax"), f.U32("motionMillisecondsMax")),
        "Move" => new MoveCommand(
            f.U16("command"), f.U32("bootNumber"), f.U16("limitsId"), (MoveKind)f.U8("kind"), f.I32("speedStepsPerSecond"),
            f.U32("accelerationStepsPerSecondSquared"), f.I32("targetSteps")),
        "Stop" => new StopCommand(f.U16("command"), f.U8("atOnce") != 0),
        "Home" => new HomeCommand(f.U16("command"), f.U32("bootNumber"), f.U16("limitsId"), f.U32("speedStepsPerSecond")),
        "AcknowledgeEvent" => new AcknowledgeEventMessage(f.U32("bootNumber"), f.U16("number")),
        "ClearFaults" => new ClearFaultsCommand(f.U16("command"), f.U32("bootNumber"), (DeviceFaults)f.U16("faults")),
        "Feed" => new FeedCommand(f.U16("command"), f.U32("bootNumber"), f.U16("limitsId")),
        "Stream" => new StreamCommand(f.U16("command"), f.U8("on") != 0, f.U32("rateMillihertz")),
        _ => throw new ArgumentException($"No message is named {message}.", nameof(message)),
    };

    private static DeviceState State(Fields f) => new(
        f.U32("bootNumber"), (InputStates)f.U16("inputs"), (MotionState)f.U8("motion"), (StateBits)f.U8("stateBits"),
        (DeviceFaults)f.U16("faults"), f.U16("limitsId"), f.U16("lastCommand"), f.U16("pendingEvent"));

    /// <summary>A block with its samples as text, so that two are equal when all their values are.</summary>
    internal sealed record Block(SamplesMessage Head, string Counts, string Steps);

    /// <summary>The same of a channel's values.</summary>
    internal sealed record ChannelBlock(ChannelSamplesMessage Head, string Values);

    private readonly struct Fields(JsonElement fields)
    {
        public bool Has(string name) => fields.TryGetProperty(name, out _);

        public byte U8(string name) => fields.GetProperty(name).GetByte();

        public ushort U16(string name) => fields.GetProperty(name).GetUInt16();

        public uint U32(string name) => fields.GetProperty(name).GetUInt32();

        public int I32(string name) => fields.GetProperty(name).GetInt32();

        public ulong Hex64(string name) => ulong.Parse(Text(name).AsSpan(2), NumberStyles.HexNumber, CultureInfo.InvariantCulture);

        public string Text(string name) => fields.GetProperty(name).GetString()!;

        public int[] List(string name) => [.. fields.GetProperty(name).EnumerateArray().Select(v => v.GetInt32())];
    }
}
