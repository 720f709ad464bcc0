using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Device;

/// <summary>Gathers conversions until a block is full or old enough, and writes it with the state.</summary>
internal sealed class BlockBuilder(FrameOutbox outbox)
{
    /// <summary>A block that holds samples goes out after this, in wall time: 20 to 50 ms make a picture that runs smoothly.</summary>
    private static readonly TimeSpan AgeMax = TimeSpan.FromMilliseconds(20);

    /// <summary>The state is told at least every 100 ms; a little sooner, so that a late tick does not miss it.</summary>
    private static readonly TimeSpan SilenceMax = TimeSpan.FromMilliseconds(90);

    private readonly int[] _counts = new int[SamplesMessage.CountMax];
    private readonly int[] _steps = new int[SamplesMessage.CountMax];
    private int _count;
    private uint _firstNumber;
    private uint _firstStamp;
    private uint _period;
    private TimeSpan _openedAt;
    private TimeSpan? _sentAt;

    /// <summary>Whether a conversion fits: there is room, its number and its stamp follow at the block's period, its position is not too
    /// far from the last.</summary>
    public bool Fits(uint number, uint stampMicroseconds, uint periodNanoseconds, int steps)
    {
        if (_count == 0) return true;
        long expected = (long)_count * _period / 1000;
        long late = unchecked(stampMicroseconds - _firstStamp) - expected;
        return _count < SamplesMessage.CountMax && periodNanoseconds == _period && number == unchecked(_firstNumber + (uint)_count)
            && Math.Abs(late) * 2000 < _period + 4000 && (long)steps - _steps[_count - 1] is >= short.MinValue and <= short.MaxValue;
    }

    /// <summary>Takes a conversion.</summary>
    public void Add(uint number, uint stampMicroseconds, uint periodNanoseconds, int counts, int steps, TimeSpan wallNow)
    {
        if (_count == 0) (_firstNumber, _firstStamp, _period, _openedAt) = (number, stampMicroseconds, periodNanoseconds, wallNow);
        _counts[_count] = counts;
        _steps[_count++] = steps;
    }

    /// <summary>Whether a block has to go out now.</summary>
    public bool IsDue(TimeSpan wallNow) =>
        (_count > 0 && wallNow - _openedAt >= AgeMax) || _sentAt is not { } sent || wallNow - sent >= SilenceMax;

    /// <summary>Sends what is gathered, with the state as it is now.</summary>
    public void Send(DeviceState state, uint nextNumber, uint stampNow, uint periodNanoseconds, int stepsNow, TimeSpan wallNow)
    {
        var message = _count > 0 ? new SamplesMessage(state, _firstNumber, _firstStamp, _period, _steps[0], (byte)_count)
            : new SamplesMessage(state, nextNumber, stampNow, periodNanoseconds, stepsNow, 0);
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        int length = message.Write(payload, _counts.AsSpan(0, _count), _steps.AsSpan(0, _count));
        outbox.SendBlock(payload[..length]);
        _count = 0;
        _sentAt = wallNow;
    }

    /// <summary>Forgets what is gathered.</summary>
    public void Clear()
    {
        _count = 0;
        _sentAt = null;
    }
}
