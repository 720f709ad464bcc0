using System.Diagnostics.CodeAnalysis;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Session;

/// <summary>What one start of a device sends, made whole: numbers and stamps that wrap on the wire rise without end, what is missing is
/// counted, and values of channels get the numbers of their conversions.</summary>
/// <remarks>Used by one thread. What it gives is valid until the next message.</remarks>
internal sealed class UnwrappedSamples(TimeProvider time)
{
    private readonly int[] _counts = new int[SamplesMessage.CountMax];
    private readonly int[] _steps = new int[SamplesMessage.CountMax];
    private readonly RawSample[] _samples = new RawSample[SamplesMessage.CountMax];
    private readonly ChannelHead?[] _channels = new ChannelHead?[HelloMessage.ChannelsMax];
    private readonly int[] _raw = new int[ChannelSamplesMessage.CountMax];
    private readonly ChannelSample[] _values = new ChannelSample[ChannelSamplesMessage.CountMax];
    private Unwrapper _numbers;
    private Unwrapper _stamps;
    private long _expectedNumber = -1;

    /// <summary>When they were taken, on the host's clocks.</summary>
    public SampleTimes Times { get; } = new(time);

    public long Received { get; private set; }

    /// <summary>Missing since the first one that came.</summary>
    public long Lost { get; private set; }

    /// <summary>Reads a block.</summary>
    public bool TryRead(ReadOnlySpan<byte> payload, out SamplesMessage message) =>
        SamplesMessage.TryRead(payload, out message, _counts, _steps);

    /// <summary>Takes the block that was read last.</summary>
    public ReadOnlySpan<RawSample> Take(in SamplesMessage message, long arrivedAt, out BlockHead head)
    {
        long stamp = _stamps.Next(message.FirstStampMicroseconds);
        long number = _numbers.Next(message.FirstNumber);
        long lost = CountLost(number, message.Count);
        for (int i = 0; i < message.Count; i++)
        {
            long later = (long)i * message.PeriodNanoseconds / 1000;
            _samples[i] = new RawSample(number + i, stamp + later, _counts[i], _steps[i]);
        }

        if (message.Count > 0) Times.Add(_samples[message.Count - 1].DeviceMicroseconds, arrivedAt);
        int position = message.Count > 0 ? _steps[message.Count - 1] : message.FirstSteps;
        head = new BlockHead(message.State, stamp, position, message.PeriodNanoseconds, lost, arrivedAt);
        return _samples.AsSpan(0, message.Count);
    }

    /// <summary>The description of a channel; null where none came that can be used.</summary>
    public ChannelHead? Channel(int channel) => _channels[channel];

    /// <summary>A channel is asked for anew: its description is to come.</summary>
    public void Forget(int channel) => _channels[channel] = null;

    /// <summary>Takes the description of a channel.</summary>
    public ChannelHead Describe(in ChannelDescriptionMessage described) => _channels[described.Channel] = new ChannelHead
    {
        Index = described.Channel,
        Kind = described.Kind switch
        {
            ChannelKind.Force => ChannelHead.Force,
            ChannelKind.Extension => ChannelHead.Extension,
            ChannelKind.Temperature => ChannelHead.Temperature,
            _ => ChannelHead.Other,
        },
        Name = described.Name,
        Unit = RigText.UnitOf(described.Kind, described.Unit).AsKept(),
        Divider = described.Divider,
        Zero = described.Zero,
        Numerator = described.Numerator,
        Denominator = described.Denominator,
        RawMin = described.RawMin,
        RawMax = described.RawMax,
        Resolution = described.Resolution,
        DelaySeconds = described.DelayMicroseconds * 1e-6,
    };

    /// <summary>Takes values of a channel. Before the first block of samples nobody knows how often the numbers have gone round.</summary>
    public bool TryTakeValues(ReadOnlySpan<byte> payload, uint bootNumber, [NotNullWhen(true)] out ChannelHead? head,
        out ReadOnlySpan<ChannelSample> values)
    {
        head = null;
        values = default;
        if (!ChannelSamplesMessage.TryRead(payload, out ChannelSamplesMessage message, _raw) || message.BootNumber != bootNumber
            || message.Channel >= _channels.Length || _expectedNumber < 0 || (head = _channels[message.Channel]) is null) return false;
        long number = _expectedNumber + unchecked((int)(message.FirstNumber - (uint)_expectedNumber));
        for (int i = 0; i < message.Count; i++) _values[i] = new ChannelSample(number + ((long)i * head.Divider), _raw[i]);
        values = _values.AsSpan(0, message.Count);
        return true;
    }

    private long CountLost(long number, int count)
    {
        long lost = _expectedNumber >= 0 && count > 0 ? Math.Max(0, number - _expectedNumber) : 0;
        if (count > 0) _expectedNumber = number + count;
        Lost += lost;
        Received += count;
        return lost;
    }
}
