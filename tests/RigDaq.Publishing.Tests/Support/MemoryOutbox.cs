using RigDaq.Core.Strength;

namespace RigDaq.Publishing.Tests.Support;

/// <summary>An outbox that is as durable as the test that holds it.</summary>
internal sealed class MemoryOutbox : IOutbox
{
    private readonly SortedDictionary<long, OutboxMessage> _messages = [];
    private long _last;

    public int Count
    {
        get { lock (_messages) return _messages.Count; }
    }

    public IReadOnlyList<(long Number, OutboxMessage Message)> Pending(int count)
    {
        lock (_messages) return [.. _messages.Take(count).Select(m => (m.Key, m.Value))];
    }

    public void Complete(long number)
    {
        lock (_messages) _messages.Remove(number);
    }

    public void Add(OutboxMessage message)
    {
        lock (_messages) _messages.Add(++_last, message);
    }
}
