using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual.Lines;

/// <summary>What a bad cable does to the bytes on their way to the host. Drawn from the seed.</summary>
internal sealed class LineTrouble(SeededRandom random)
{
    private double _lossProbability;
    private TimeSpan _lossUntil;
    private int _garbageBytes;
    private int _blocksToLose;
    private int _answersToLose;
    private int _commandsToLose;
    private TimeSpan _silentUntil;

    /// <summary>Each byte is lost with a probability until a wall time.</summary>
    public void LoseBytes(double probability, TimeSpan until) => (_lossProbability, _lossUntil) = (probability, until);

    /// <summary>Random bytes go out before the next frame.</summary>
    public void AddGarbage(int bytes) => _garbageBytes += bytes;

    /// <summary>The next blocks of samples never arrive.</summary>
    public void LoseBlocks(int count) => _blocksToLose += count;

    /// <summary>The next answers never arrive.</summary>
    public void LoseAnswers(int count) => _answersToLose += count;

    /// <summary>The next messages from the host never arrive at the device.</summary>
    public void LoseFromHost(int count) => _commandsToLose += count;

    /// <summary>Nothing arrives until a wall time, though the line is up.</summary>
    public void Silence(TimeSpan until) => _silentUntil = until;

    /// <summary>Whether a message from the host is swallowed.</summary>
    public bool TakesFromHost() => Count(ref _commandsToLose);

    /// <summary>Whether a payload on its way to the host is swallowed.</summary>
    public bool Takes(MessageType type, TimeSpan wallNow) => wallNow < _silentUntil
        || (type == MessageType.Samples && Count(ref _blocksToLose)) || (type == MessageType.Answer && Count(ref _answersToLose));

    /// <summary>The frame as it arrives; the same where the line is sound.</summary>
    public byte[] Disturb(ReadOnlySpan<byte> frame, TimeSpan wallNow)
    {
        bool loses = wallNow < _lossUntil;
        if (!loses && _garbageBytes == 0) return frame.ToArray();
        var bytes = new List<byte>(frame.Length + _garbageBytes);
        for (; _garbageBytes > 0; _garbageBytes--) bytes.Add((byte)random.NextBits());
        foreach (byte b in frame)
        {
            if (!loses || random.NextUniform() >= _lossProbability) bytes.Add(b);
        }

        return [.. bytes];
    }

    private static bool Count(ref int left)
    {
        if (left == 0) return false;
        left--;
        return true;
    }
}
