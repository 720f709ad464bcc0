using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Lines;

namespace RigDaq.Virtual.Device;

/// <summary>What waits to go out. Answers and events go first and are never dropped; sample blocks are bounded, and the oldest are dropped
/// where the line cannot carry them.</summary>
internal sealed class FrameOutbox
{
    /// <summary>While so many answers and events wait, no further command is read: the sender waits, nothing is lost.</summary>
    public const int UrgentFramesMax = 64;

    /// <summary>What may wait for a line without a rate of its own: half a second at 20,000 samples a second.</summary>
    private const int SampleBytesMax = 64 * 1024;

    /// <summary>What may wait for a slow line, in seconds: what goes out is never older.</summary>
    private const double BacklogSeconds = 0.05;

    /// <summary>How much a slow line may catch up in one go, in seconds.</summary>
    private const double CatchUpSeconds = 0.05;

    private readonly LineTrouble _trouble;
    private readonly int _bytesPerSecond;
    private readonly int _sampleBytesMax;
    private readonly Queue<byte[]> _urgent = new();
    private readonly Queue<byte[]> _samples = new();
    private readonly byte[] _frame = new byte[FrameLimits.WireBytesMax];
    private ReadOnlyMemory<byte> _onLine;
    private int _sampleBytes;
    private double _allowance;
    private TimeSpan _lastPump;

    /// <summary>Empty.</summary>
    /// <param name="trouble">What the line does to it.</param>
    /// <param name="bytesPerSecond">What the line carries; 0 for as much as comes.</param>
    public FrameOutbox(LineTrouble trouble, int bytesPerSecond)
    {
        _trouble = trouble;
        _bytesPerSecond = bytesPerSecond;
        _sampleBytesMax = bytesPerSecond == 0 ? SampleBytesMax
            : Math.Clamp((int)(bytesPerSecond * BacklogSeconds), FrameLimits.WireBytesMax, SampleBytesMax);
    }

    /// <summary>Whether blocks were dropped since the last stream command or the start.</summary>
    public bool HasDroppedBlocks { get; private set; }

    /// <summary>Whether commands may still be read.</summary>
    public bool HasRoomForAnswers => _urgent.Count < UrgentFramesMax;

    /// <summary>Queues an answer, an event or a hello.</summary>
    public void SendUrgent(ReadOnlySpan<byte> payload) => _urgent.Enqueue(payload.ToArray());

    /// <summary>Queues a block of samples.</summary>
    public void SendBlock(ReadOnlySpan<byte> payload)
    {
        _samples.Enqueue(payload.ToArray());
        _sampleBytes += payload.Length;
        while (_sampleBytes > _sampleBytesMax)
        {
            _sampleBytes -= _samples.Dequeue().Length;
            HasDroppedBlocks = true;
        }
    }

    /// <summary>A stream command: what was dropped before it is no longer told.</summary>
    public void ForgetDrops() => HasDroppedBlocks = false;

    /// <summary>A zero goes out, which ends whatever a restart cut short.</summary>
    public void SendDelimiter() => _onLine = new[] { FrameLimits.Delimiter };

    /// <summary>Gives the line what it takes now.</summary>
    public void Pump(IDeviceLine? line, TimeSpan wallNow)
    {
        double seconds = (wallNow - _lastPump).TotalSeconds;
        _lastPump = wallNow;
        if (line is not { IsConnected: true })
        {
            Clear();
            return;
        }

        double most = Math.Max(_bytesPerSecond * CatchUpSeconds, FrameLimits.WireBytesMax);
        _allowance = Math.Min(_allowance + (seconds * _bytesPerSecond), most);
        while (!_onLine.IsEmpty || TakeNext(wallNow))
        {
            int offered = _bytesPerSecond == 0 ? _onLine.Length : Math.Min(_onLine.Length, (int)_allowance);
            int taken = offered == 0 ? 0 : line.Write(_onLine.Span[..offered]);
            if (taken == 0) return;
            _onLine = _onLine[taken..];
            _allowance -= taken;
        }
    }

    /// <summary>Forgets everything: nobody listens, or the device restarts.</summary>
    public void Clear()
    {
        _urgent.Clear();
        _samples.Clear();
        _sampleBytes = 0;
        _onLine = default;
    }

    // The next frame that the line does not swallow; garbage may come without one.
    private bool TakeNext(TimeSpan wallNow)
    {
        while (_onLine.IsEmpty)
        {
            if (!_urgent.TryDequeue(out byte[]? payload))
            {
                if (!_samples.TryDequeue(out payload)) return false;
                _sampleBytes -= payload.Length;
            }

            ReadOnlySpan<byte> frame =
                _trouble.Takes((MessageType)payload[0], wallNow) ? [] : _frame.AsSpan(0, FrameEncoder.Encode(payload, _frame));
            _onLine = _trouble.Disturb(frame, wallNow);
        }

        return true;
    }
}
