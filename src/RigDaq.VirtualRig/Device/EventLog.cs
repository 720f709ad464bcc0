using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Device;

/// <summary>Events that wait for their acknowledgement. The oldest goes out again every 100 ms until then, and the next one after
/// it.</summary>
internal sealed class EventLog(FrameOutbox outbox)
{
    /// <summary>The most that wait. A further one is lost, but its number is used, so that the host sees the gap.</summary>
    public const int PendingMax = 16;

    private static readonly TimeSpan Repeat = TimeSpan.FromMilliseconds(100);
    private readonly Queue<EventMessage> _pending = new(PendingMax);
    private ushort _number;
    private TimeSpan? _sentAt;

    /// <summary>The oldest that is not acknowledged; 0 where there is none.</summary>
    public ushort OldestPending => _pending.TryPeek(out EventMessage oldest) ? oldest.Number : (ushort)0;

    /// <summary>Something happened.</summary>
    public void Add(DeviceEventCode code, uint stampMicroseconds, int detail)
    {
        if (++_number == 0) _number = 1;
        if (_pending.Count < PendingMax) _pending.Enqueue(new EventMessage(_number, code, stampMicroseconds, detail));
    }

    /// <summary>The host has it.</summary>
    public void Acknowledge(ushort number)
    {
        if (OldestPending != number || number == 0) return;
        _pending.Dequeue();
        _sentAt = null;
    }

    /// <summary>Sends what is due.</summary>
    public void Tick(TimeSpan wallNow)
    {
        if (!_pending.TryPeek(out EventMessage oldest) || wallNow - _sentAt < Repeat || !outbox.HasRoomForAnswers) return;
        _sentAt = wallNow;
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        outbox.SendUrgent(payload[..oldest.Write(payload)]);
    }

    /// <summary>A restart: nothing happened yet.</summary>
    public void Clear()
    {
        _pending.Clear();
        _number = 0;
        _sentAt = null;
    }
}
