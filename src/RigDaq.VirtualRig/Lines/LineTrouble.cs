using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual.Lines;

/// <summary>What a bad cable does to the bytes on their way to the host. Drawn from the seed.</summary>
internal sealed class LineTrouble(SeededRandom random)
{
    private double _lossProbability;
    private TimeSpan _lossUntil;
    private int _garbageBytes;
    private int _blocksToLose;

    /// <summary>Each byte is lost with a probability until a wall time.</summary>
    public void LoseBytes(double probability, TimeSpan until) => (_lossProbability, _lossUntil) = (probability, until);

    /// <summary>Random bytes go out before the next frame.</summary>
    public void AddGarbage(int bytes) => _garbageBytes += bytes;

    /// <summary>The next blocks of samples never arrive.</summary>
    public void LoseBlocks(int count) => _blocksToLose += count;

    /// <summary>Whether a block of samples is swallowed.</summary>
    public bool TakesBlock()
    {
        if (_blocksToLose == 0) return false;
        _blocksToLose--;
        return true;
    }

    /// <summary>The frame as it arrives; the same where the line is sound.</summary>
    public ReadOnlyMemory<byte> Disturb(byte[] frame, TimeSpan wallNow)
    {
        bool loses = wallNow < _lossUntil;
        if (!loses && _garbageBytes == 0) return frame;
        var bytes = new List<byte>(frame.Length + _garbageBytes);
        for (; _garbageBytes > 0; _garbageBytes--) bytes.Add((byte)random.NextBits());
        foreach (byte b in frame)
        {
            if (!loses || random.NextUniform() >= _lossProbability) bytes.Add(b);
        }

        return bytes.ToArray();
    }
}
