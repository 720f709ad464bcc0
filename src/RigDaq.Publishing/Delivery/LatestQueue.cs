using System.Diagnostics.CodeAnalysis;

namespace RigDaq.Publishing.Delivery;

/// <summary>A bounded queue that loses its oldest and counts what it lost. Safe for many threads.</summary>
internal sealed class LatestQueue<T>(int capacity)
{
    private readonly Queue<T> _items = new(capacity);
    private readonly Lock _lock = new();
    private long _dropped;

    /// <summary>How many were lost.</summary>
    internal long Dropped
    {
        get { lock (_lock) return _dropped; }
    }

    /// <summary>Adds one; the oldest goes where there is no room.</summary>
    internal void Add(T item)
    {
        lock (_lock)
        {
            if (_items.Count == capacity)
            {
                _items.Dequeue();
                _dropped++;
            }

            _items.Enqueue(item);
        }
    }

    /// <summary>Puts one back that could not be sent, unless there is no room left for it.</summary>
    internal void Return(T item)
    {
        lock (_lock)
        {
            if (_items.Count == capacity)
            {
                _dropped++;
                return;
            }

            T[] later = [.. _items];
            _items.Clear();
            _items.Enqueue(item);
            foreach (T each in later) _items.Enqueue(each);
        }
    }

    /// <summary>Takes the oldest.</summary>
    internal bool TryTake([MaybeNullWhen(false)] out T item)
    {
        lock (_lock) return _items.TryDequeue(out item);
    }
}
