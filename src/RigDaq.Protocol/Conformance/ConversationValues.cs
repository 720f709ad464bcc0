using System.Collections.Immutable;
using System.Globalization;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Conformance;

/// <summary>What the names in a conversation stand for with this device: its boot number, its limits, the last keep-alive.</summary>
internal sealed class ConversationValues(ConformancePeer peer)
{
    private uint _limits;

    /// <summary>The number of the last event that was expected.</summary>
    public ushort LastEvent { get; set; }

    /// <summary>The counter of the last keep-alive before the loop that sends them was switched off or on.</summary>
    public ushort Counter { get; set; }

    /// <summary>A keep-alive is sent out of turn: the loop goes on from it where it is newer.</summary>
    public void TakeKeepAlive(KeepAliveMessage life)
    {
        if (life.BootNumber == peer.Hello!.Value.BootNumber && unchecked((short)(life.Counter - peer.Counter)) > 0)
            peer.Counter = life.Counter;
    }

    /// <summary>Limits are sent: their id and checksum are what confirms them.</summary>
    public void TakeLimits(ReadOnlySpan<byte> payload) =>
        _limits = payload.Length < 5 ? 0 : payload[3] | ((uint)payload[4] << 8) | ((uint)Crc16.Compute(payload) << 16);

    /// <summary>The bytes of a payload in hexadecimal with {name:bytes} in it.</summary>
    public byte[] Payload(string template)
    {
        var bytes = new List<byte>();
        for (int i = 0; i < template.Length;)
        {
            if (template[i] != '{')
            {
                bytes.Add(byte.Parse(template.AsSpan(i, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture));
                i += 2;
                continue;
            }

            int end = template.IndexOf('}', i), colon = template.IndexOf(':', i);
            long value = Value(template[(i + 1)..colon]);
            int size = template[colon + 1] - '0';
            for (int b = 0; b < size; b++) bytes.Add((byte)(value >> (8 * b)));
            i = end + 1;
        }

        return [.. bytes];
    }

    public bool Matches(ImmutableArray<KeyValuePair<string, string>> fields, AnswerMessage m) => All(fields, name => name switch
    {
        "command" => m.Command,
        "type" => (byte)m.Type,
        "result" => (byte)m.Result,
        "detail" => m.Detail,
        _ => throw NoSuch(name),
    });

    public bool Matches(ImmutableArray<KeyValuePair<string, string>> fields, EventMessage m) => All(fields, name => name switch
    {
        "number" => m.Number,
        "code" => (byte)m.Code,
        "detail" => m.Detail,
        _ => throw NoSuch(name),
    });

    public bool Matches(ImmutableArray<KeyValuePair<string, string>> fields, ChannelDescriptionMessage m) => All(fields, name => name switch
    {
        "bootNumber" => m.BootNumber,
        "channel" => m.Channel,
        "usable" => m.IsUsable ? 1 : 0,
        _ => throw NoSuch(name),
    });

    public bool Matches(ImmutableArray<KeyValuePair<string, string>> fields, ChannelSamplesMessage m) => All(fields, name => name switch
    {
        "bootNumber" => m.BootNumber,
        "channel" => m.Channel,
        _ => throw NoSuch(name),
    });

    public bool Matches(ImmutableArray<KeyValuePair<string, string>> fields, SamplesMessage m) => All(fields, name => name switch
    {
        "motion" => (byte)m.State.Motion,
        "faults" => (ushort)m.State.Faults,
        "limitsId" => m.State.LimitsId,
        "lastCommand" => m.State.LastCommand,
        "pendingEvent" => m.State.PendingEvent,
        "powered" => m.State.Flags.HasFlag(StateBits.MotorEnabled) ? 1 : 0,
        "guardClosed" => m.State.Inputs.HasFlag(InputStates.GuardClosed) ? 1 : 0,
        "samples" => m.Count > 0 ? 1 : 0,
        _ => throw NoSuch(name),
    });

    /// <summary>What came instead, for a person.</summary>
    public string Seen(string message, int fromAnswer) => message switch
    {
        "Answer" => peer.Answers.Count > fromAnswer
            ? $"instead came {string.Join(", ", peer.Answers.Skip(fromAnswer).Select(a => $"{a.Result} to {a.Type} {a.Command} (detail 0x{a.Detail:X})"))}"
            : "no answer came",
        "Samples" => $"the state is {peer.State}",
        _ => "none came",
    };

    private bool All(ImmutableArray<KeyValuePair<string, string>> fields, Func<string, long> valueOf) =>
        fields.All(f => valueOf(f.Key) == Value(f.Value));

    /// <summary>A number, or a name with a number added: slow, -slow, boot+1.</summary>
    private long Value(string text)
    {
        if (long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long number)) return number;
        int sign = text.AsSpan(1).IndexOfAny('+', '-') + 1;
        long further = sign == 0 ? 0 : long.Parse(text[sign..], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
        string name = sign == 0 ? text : text[..sign];
        bool negative = name[0] == '-';
        long value = Named(negative ? name[1..] : name);
        return (negative ? -value : value) + further;
    }

    private long Named(string name)
    {
        HelloMessage h = peer.Hello!.Value;
        return name switch
        {
            "boot" => h.BootNumber,
            "k" => Counter,
            "event" => LastEvent,
            "limits" => _limits,
            "forceMin" => h.HardForceCountsMin,
            "forceMax" => h.HardForceCountsMax,
            "travelMin" => h.HardTravelStepsMin,
            "travelMax" => h.HardTravelStepsMax,
            "speedMax" => h.HardSpeedStepsPerSecondMax,
            "accelerationMax" => h.HardAccelerationStepsPerSecondSquaredMax,

            // Slow: a fiftieth of what the device can, at least one step in 50 ms; a ramp that is over in a moment.
            "slow" => Math.Max(20, h.HardSpeedStepsPerSecondMax / 50),
            "ramp" => Math.Max(1, h.HardAccelerationStepsPerSecondSquaredMax / 4),
            _ => throw NoSuch(name),
        };
    }

    private static InvalidDataException NoSuch(string name) => new($"A conversation has no field or value named {name}.");
}
