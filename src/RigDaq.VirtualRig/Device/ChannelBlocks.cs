using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Physics;
using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual.Device;

/// <summary>The channels besides the force: what they are, which are on, and their values gathered in blocks (PROTOCOL.md, 20).</summary>
internal sealed class ChannelBlocks
{
    private static readonly TimeSpan AgeMax = TimeSpan.FromMilliseconds(20);
    private readonly FrameOutbox _outbox;
    private readonly Gathering[] _channels;

    public ChannelBlocks(VirtualRigOptions options, FrameOutbox outbox)
    {
        _outbox = outbox;
        _channels = [.. options.Channels.Select((channel, i) => new Gathering(new ChannelSensor(channel,
            new SeededRandom(SeedMixer.Mix(options.Seed, "channel", i.ToString(System.Globalization.CultureInfo.InvariantCulture))))))];
    }

    public int Count => _channels.Length;

    /// <summary>A restart: none is on.</summary>
    public void Clear()
    {
        foreach (Gathering channel in _channels) (channel.On, channel.Count) = (false, 0);
    }

    /// <summary>Says what a channel is, and switches it.</summary>
    public void Take(int index, bool on, uint bootNumber)
    {
        Gathering channel = _channels[index];
        VirtualChannel made = channel.Sensor.Channel;
        var range = (int)(made.Range * made.RawPerUnit);
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        int length = new ChannelDescriptionMessage
        {
            BootNumber = bootNumber,
            Channel = (byte)index,
            Kind = made.Kind,
            Divider = (ushort)made.Divider,
            Zero = made.Zero,
            Numerator = 1,
            Denominator = (uint)made.RawPerUnit,
            RawMin = made.Zero - range,
            RawMax = made.Zero + range,
            Resolution = 1,
            Unit = made.Kind switch { ChannelKind.Force => "N", ChannelKind.Extension => "mm", _ => "°C" },
            Name = made.Name,
        }.Write(payload);
        _outbox.SendUrgent(payload[..length]);
        if (channel.On && !on) Send(index, bootNumber);
        channel.On = on;
    }

    /// <summary>A conversion of the force has ended: the values that belong to it.</summary>
    public void AfterConversion(uint number, bool streamOn, RigPhysics physics, uint bootNumber, TimeSpan wallNow)
    {
        for (int i = 0; i < _channels.Length; i++)
        {
            Gathering channel = _channels[i];
            var divider = (uint)channel.Sensor.Channel.Divider;
            if (number % divider != 0) continue;
            int raw = channel.Sensor.Convert(physics);
            if (!streamOn || !channel.On) continue;
            if (channel.Count > 0 && number != channel.FirstNumber + ((uint)channel.Count * divider)) Send(i, bootNumber);
            if (channel.Count == 0) (channel.FirstNumber, channel.OpenedAt) = (number, wallNow);
            channel.Values[channel.Count++] = raw;
            if (channel.Count == ChannelSamplesMessage.CountMax) Send(i, bootNumber);
        }
    }

    /// <summary>Sends what is old enough.</summary>
    public void Tick(uint bootNumber, TimeSpan wallNow)
    {
        for (int i = 0; i < _channels.Length; i++)
            if (_channels[i].Count > 0 && wallNow - _channels[i].OpenedAt >= AgeMax) Send(i, bootNumber);
    }

    /// <summary>Sends what is gathered: the stream is about to be switched.</summary>
    public void Flush(uint bootNumber)
    {
        for (int i = 0; i < _channels.Length; i++) Send(i, bootNumber);
    }

    private void Send(int index, uint bootNumber)
    {
        Gathering channel = _channels[index];
        if (channel.Count == 0) return;
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        int length = new ChannelSamplesMessage(bootNumber, (byte)index, channel.FirstNumber, (byte)channel.Count).Write(payload,
            channel.Values.AsSpan(0, channel.Count));
        _outbox.SendBlock(payload[..length]);
        channel.Count = 0;
    }

    private sealed class Gathering(ChannelSensor sensor)
    {
        public ChannelSensor Sensor => sensor;

        public int[] Values { get; } = new int[ChannelSamplesMessage.CountMax];
        public bool On { get; set; }
        public int Count { get; set; }
        public uint FirstNumber { get; set; }
        public TimeSpan OpenedAt { get; set; }
    }
}
