using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Conformance;

/// <summary>The host's side of a conformance run: sends, lets time go by, keeps what came.</summary>
internal sealed class ConformancePeer(IConformanceLine line)
{
    /// <summary>How long an answer is waited for: far more than PROTOCOL.md calls plenty, for busy hosts.</summary>
    public const int AnswerMillisecondsMax = 1000;

    private const int SliceMilliseconds = 10;
    private static readonly TimeSpan Slice = TimeSpan.FromMilliseconds(SliceMilliseconds);
    private readonly FrameDecoder _decoder = new();
    private readonly List<byte> _toDevice = [];
    private readonly byte[] _payload = new byte[FrameLimits.PayloadBytesMax];
    private readonly byte[] _wire = new byte[FrameLimits.WireBytesMax];
    private readonly int[] _counts = new int[SamplesMessage.CountMax];
    private readonly int[] _steps = new int[SamplesMessage.CountMax];
    private readonly int[] _values = new int[ChannelSamplesMessage.CountMax];
    private int _keepAliveDue;

    /// <summary>Writes a message.</summary>
    public delegate int Writer(Span<byte> payload);

    /// <summary>The device's time since the run began, in ms, to a slice.</summary>
    public int Now { get; private set; }

    /// <summary>The last hello, if any.</summary>
    public HelloMessage? Hello { get; private set; }

    public int Hellos { get; private set; }
    public List<AnswerMessage> Answers { get; } = [];
    public List<(int At, EventMessage Event)> Events { get; } = [];
    public List<(int At, SamplesMessage Head, int LastSteps)> Blocks { get; } = [];
    public List<(int At, ChannelDescriptionMessage Description)> Channels { get; } = [];
    public List<(int At, ChannelSamplesMessage Head)> ChannelBlocks { get; } = [];
    public List<string> Odd { get; } = [];

    public DeviceState State => Blocks.Count == 0 ? default : Blocks[^1].Head.State;

    /// <summary>Whether keep-alives are sent, and whether their counter counts.</summary>
    public bool KeepsAlive { get; set; }

    public bool CounterStands { get; set; }
    public ushort Counter { get; set; }
    public ushort Number { get; set; }

    /// <summary>The frame of a message, as bytes for the line.</summary>
    public byte[] Frame(Writer write) => Frame(_payload.AsSpan(0, write(_payload)));

    public byte[] Frame(ReadOnlySpan<byte> payload) => _wire[..FrameEncoder.Encode(payload, _wire)];

    /// <summary>Puts bytes on the line with the next slice.</summary>
    public void Send(ReadOnlySpan<byte> bytes) => _toDevice.AddRange(bytes);

    public async Task Run(int milliseconds)
    {
        for (int left = milliseconds; left > 0; left -= SliceMilliseconds)
        {
            if (Now >= _keepAliveDue && KeepsAlive && Hello is { } hello)
            {
                _keepAliveDue = Now + 100;
                if (!CounterStands) Counter++;
                Send(Frame(new KeepAliveMessage(hello.BootNumber, Counter).Write));
            }

            byte[] toDevice = [.. _toDevice];
            _toDevice.Clear();
            ReadOnlyMemory<byte> arrived = await line.ExchangeAsync(toDevice, Slice).ConfigureAwait(false);
            Now = (int)line.Elapsed.TotalMilliseconds;
            Take(arrived.Span);
        }
    }

    /// <summary>Sends a payload and waits for the answer to a number; null where none came.</summary>
    public async Task<AnswerMessage?> Ask(byte[] wire, ushort number)
    {
        int from = Answers.Count;
        Send(wire);
        for (int waited = 0; waited < AnswerMillisecondsMax; waited += SliceMilliseconds)
        {
            await Run(SliceMilliseconds).ConfigureAwait(false);
            for (int i = from; i < Answers.Count; i++)
                if (Answers[i].Command == number) return Answers[i];
        }

        return null;
    }

    /// <summary>Sends a command with the next number.</summary>
    public Task<AnswerMessage?> Command(Func<ushort, Writer> make)
    {
        Number++;
        return Ask(Frame(make(Number)), Number);
    }

    private void Take(ReadOnlySpan<byte> rest)
    {
        while (_decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload))
        {
            if (HelloMessage.TryRead(payload, out HelloMessage hello)) (Hello, Hellos) = (hello, Hellos + 1);
            else if (AnswerMessage.TryRead(payload, out AnswerMessage answer)) Answers.Add(answer);
            else if (EventMessage.TryRead(payload, out EventMessage happened)) Events.Add((Now, happened));
            else if (SamplesMessage.TryRead(payload, out SamplesMessage head, _counts, _steps))
                Blocks.Add((Now, head, head.Count == 0 ? head.FirstSteps : _steps[head.Count - 1]));
            else if (ChannelDescriptionMessage.TryRead(payload, out ChannelDescriptionMessage described)) Channels.Add((Now, described));
            else if (ChannelSamplesMessage.TryRead(payload, out ChannelSamplesMessage values, _values)) ChannelBlocks.Add((Now, values));
            else if (payload[0] is >= 0x01 and <= 0x06)
                Odd.Add($"a message of type 0x{payload[0]:X2} that is too short ({payload.Length} bytes)");
            else if (payload[0] >= 0x40) Odd.Add($"a frame of type 0x{payload[0]:X2}, which only a host may send");
        }
    }
}
