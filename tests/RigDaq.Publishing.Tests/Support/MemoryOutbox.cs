using RigDaq.Core.Runs;

namespace RigDaq.Publishing.Tests.Support;

/// <summary>An outbox that is as durable as the test that holds it.</summary>
internal sealed class MemoryOutbox : IOutbox
{
    private readonly SortedDictionary<long, OutboxMessage> _messages = [];
    private readonly Dictionary<long, IReadOnlyList<string>> _reached = [];
    private long _last;

    /// <summary>What is met when it is read; null for nothing.</summary>
    public Exception? Fault { get; set; }

    public int Count
    {
        get { lock (_messages) return _messages.Count; }
    }

    public IReadOnlyList<(long Number, OutboxMessage Message)> Pending(int count)
    {
        if (Fault is { } fault) throw fault;
        lock (_messages) return [.. _messages.Take(count).Select(m => (m.Key, m.Value))];
    }

    public void Complete(long number)
    {
        lock (_messages)
        {
            _messages.Remove(number);
            _reached.Remove(number);
        }
    }

    public void Reach(long number, IReadOnlyCollection<string> addressees)
    {
        lock (_messages) _reached[number] = [.. addressees];
    }

    public IReadOnlyDictionary<long, IReadOnlyList<string>> Reached()
    {
        lock (_messages) return new Dictionary<long, IReadOnlyList<string>>(_reached);
    }

    public void Add(OutboxMessage message)
    {
        lock (_messages) _messages.Add(++_last, message);
    }
}
