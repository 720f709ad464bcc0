using RigDaq.Protocol.Frames;
using RigDaq.Virtual.Lines;

namespace RigDaq.Virtual.Device;

/// <summary>
/// What waits to go out. Answers and events go first and are never dropped; sample blocks are bounded, and the oldest are
/// dropped where the line cannot carry them.
/// </summary>
internal sealed class FrameOutbox(LineTrouble trouble, int bytesPerSecond)
{
    /// <summary>Half a second at 20,000 samples a second.</summary>
    public const int SampleBytesMax = 64 * 1024;

    /// <summary>While so many answers and events wait, no further command is read: the sender waits, nothing is lost.</summary>
    public const int UrgentFramesMax = 64;

    /// <summary>How much a slow line may catch up in one go, in seconds.</summary>
    private const double CatchUpSeconds = 0.05;

    private readonly Queue<byte[]> _urgent = new();
    private readonly Queue<byte[]> _samples = new();
    private readonly byte[] _frame = new byte[FrameLimits.WireBytesMax];
    private ReadOnlyMemory<byte> _onLine;
    private int _sampleBytes;
    private double _allowance;
    private TimeSpan _lastPump;

    /// <summary>Whether blocks were dropped since the last stream command or the start.</summary>
    public bool HasDroppedBlocks { get; private set; }

    /// <summary>Whether commands may still be read.</summary>
    public bool HasRoomForAnswers => _urgent.Count < UrgentFramesMax;

    /// <summary>Queues an answer, an event or a hello.</summary>
    public void SendUrgent(ReadOnlySpan<byte> payload) => _urgent.Enqueue(Frame(payload));

    /// <summary>Queues a block of samples.</summary>
    public void SendBlock(ReadOnlySpan<byte> payload)
    {
        byte[] frame = Frame(payload);
        _samples.Enqueue(frame);
        _sampleBytes += frame.Length;
        while (_sampleBytes > SampleBytesMax)
        {
            _sampleBytes -= _samples.Dequeue().Length;
            HasDroppedBlocks = true;
        }
    }

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

        _allowance = Math.Min(_allowance + (seconds * bytesPerSecond), Math.Max(bytesPerSecond * CatchUpSeconds, FrameLimits.WireBytesMax));
        while (!_onLine.IsEmpty || TakeNext(wallNow))
        {
            int most = bytesPerSecond == 0 ? _onLine.Length : Math.Min(_onLine.Length, (int)_allowance);
            int taken = most == 0 ? 0 : line.Write(_onLine.Span[..most]);
            if (taken == 0) return;
            _onLine = _onLine[taken..];
            _allowance -= taken;
        }
    }

    /// <summary>A stream command: what was dropped before it is no longer told.</summary>
    public void ForgetDrops() => HasDroppedBlocks = false;

    /// <summary>Ends whatever a restart cut short.</summary>
    public void SendDelimiter() => _urgent.Enqueue([FrameLimits.Delimiter]);

    /// <summary>Forgets everything: nobody listens, or the device restarts.</summary>
    public void Clear()
    {
        _urgent.Clear();
        _samples.Clear();
        _sampleBytes = 0;
        _onLine = default;
    }

    private bool TakeNext(TimeSpan wallNow)
    {
        if (_urgent.TryDequeue(out byte[]? frame))
        {
            _onLine = trouble.Disturb(frame, wallNow);
            return true;
        }

        if (!_samples.TryDequeue(out frame)) return false;
        _sampleBytes -= frame.Length;
        _onLine = trouble.TakesBlock() ? trouble.Disturb([], wallNow) : trouble.Disturb(frame, wallNow);
        return true;
    }

    private byte[] Frame(ReadOnlySpan<byte> payload) => _frame.AsSpan(0, FrameEncoder.Encode(payload, _frame)).ToArray();
}
