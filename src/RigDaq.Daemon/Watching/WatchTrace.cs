using System.Buffers.Binary;
using RigDaq.Web.Live;

namespace RigDaq.Daemon.Watching;

/// <summary>The last seconds of force, from what goes over the live socket.</summary>
internal sealed class WatchTrace
{
    /// <summary>So many samples are kept; of faster devices the picture is shorter.</summary>
    public const int SamplesMax = 1 << 16;

    /// <summary>How long a time is drawn, in seconds.</summary>
    public const double Seconds = 10;

    private readonly (double Time, float Value)[] _ring = new (double, float)[SamplesMax];
    private long _count;
    private uint _start;

    /// <summary>Whether the values are counts of the converter instead of newtons.</summary>
    public bool IsCounts { get; private set; }

    /// <summary>Takes the blocks of one binary message; one that is no such message is left at where it stops being one.</summary>
    public void Add(ReadOnlySpan<byte> message)
    {
        while (message.Length >= LiveFrame.HeadBytes)
        {
            int count = BinaryPrimitives.ReadInt32LittleEndian(message[4..]);
            if (count < 0 || message.Length - LiveFrame.HeadBytes < (long)count * sizeof(float)) return;
            uint start = BinaryPrimitives.ReadUInt32LittleEndian(message);
            bool isCounts = (BinaryPrimitives.ReadUInt32LittleEndian(message[28..]) & 1) == 1;
            // Another start of the device, or another unit: what came before does not go on.
            if (start != _start || isCounts != IsCounts) (_start, IsCounts, _count) = (start, isCounts, 0);
            double first = BinaryPrimitives.ReadDoubleLittleEndian(message[8..]);
            double spacing = BinaryPrimitives.ReadDoubleLittleEndian(message[16..]);
            for (int i = 0; i < count; i++)
            {
                float value = BinaryPrimitives.ReadSingleLittleEndian(message[(LiveFrame.HeadBytes + (i * sizeof(float)))..]);
                _ring[_count++ % SamplesMax] = (first + (i * spacing), value);
            }

            message = message[(LiveFrame.HeadBytes + (count * sizeof(float)))..];
        }
    }

    /// <summary>The least and the greatest value in each of so many equal stretches of the last seconds, the oldest first; both NaN where
    /// there is none.</summary>
    public (float Low, float High)[] Columns(int columns)
    {
        var found = new (float Low, float High)[columns];
        Array.Fill(found, (float.NaN, float.NaN));
        if (_count == 0) return found;
        double end = _ring[(_count - 1) % SamplesMax].Time;
        for (long i = _count - 1; i >= Math.Max(0, _count - SamplesMax); i--)
        {
            (double time, float value) = _ring[i % SamplesMax];
            int column = columns - 1 - (int)((end - time) / Seconds * columns);
            if (column < 0) break;
            if (column >= columns || !float.IsFinite(value)) continue;
            (float low, float high) = found[column];
            // Where one of two is no number the other is taken.
            found[column] = (float.MinNumber(low, value), float.MaxNumber(high, value));
        }

        return found;
    }
}
