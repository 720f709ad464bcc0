using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Session;

/// <summary>Sends numbered commands one at a time: each waits for its answer and is repeated, the same bytes under the same number, while
/// none comes. A stop overtakes everything, and what it overtook is never sent again.</summary>
/// <remarks>Used by one thread. The wait is in wall time.</remarks>
internal sealed class CommandQueue(Action<ReadOnlyMemory<byte>> write, TimeProvider time)
{
    /// <summary>How long an answer is waited for before the command is repeated.</summary>
    public static readonly TimeSpan AnswerWait = TimeSpan.FromMilliseconds(150);

    /// <summary>How often a command is sent before the device counts as lost.</summary>
    public const int SendsMax = 6;

    /// <summary>How many commands may wait.</summary>
    public const int WaitingMax = 16;

    private readonly Queue<Waiting> _waiting = new();
    private Waiting? _outstanding;
    private byte[] _frame = new byte[FrameLimits.WireBytesMax];
    private int _frameLength;
    private int _sends;
    private long _sentAt;
    private ushort _lastNumber;
    private MessageType _lastType;

    /// <summary>Sends a command when its turn comes; <paramref name="done"/> is called exactly once.</summary>
    public void Send(CommandWriter writer, Action<CommandOutcome> done)
    {
        if (_waiting.Count >= WaitingMax)
        {
            done(CommandOutcome.NotSent(RigText.TooManyCommands));
            return;
        }

        _waiting.Enqueue(new Waiting(writer, done));
        Next();
    }

    /// <summary>Sends a stop now, before everything else, and gives up whatever has not been answered.</summary>
    public void Stop(bool atOnce, Action<CommandOutcome> done)
    {
        Drop(RigText.OvertakenByStop);
        Transmit(new Waiting((number, payload) => new StopCommand(number, atOnce).Write(payload), done) { IsStop = true });
    }

    /// <summary>Sends the greeting's question in place of whatever has not been answered, but for a stop: that follows it under a number of
    /// its own, so that a stop in mid-greeting goes out again with every question until a device answers it.</summary>
    public void Ask(CommandWriter question, Sentence words)
    {
        Waiting? stop = _outstanding is { IsStop: true } unanswered ? unanswered : null;
        if (stop is not null) _outstanding = null;
        Drop(words);
        Transmit(new Waiting(question, _ => { }));
        if (stop is not null) Transmit(stop);
    }

    /// <summary>Gives up everything that has not been answered.</summary>
    public void Drop(Sentence words)
    {
        Waiting? outstanding = _outstanding;
        _outstanding = null;
        Waiting[] waiting = [.. _waiting];
        _waiting.Clear();
        outstanding?.Done(CommandOutcome.NotSent(words));
        foreach (Waiting w in waiting) w.Done(CommandOutcome.NotSent(words));
    }

    /// <summary>An answer came. One to another number than the outstanding one's is a late repetition; one that names another type is the
    /// answer that the device remembers of an earlier session's command of that number.</summary>
    public void Answered(AnswerMessage answer)
    {
        if (_outstanding is not { } outstanding || answer.Command != _lastNumber || answer.Type != _lastType) return;
        _outstanding = null;
        outstanding.Done(new CommandOutcome(answer.Command, true, answer.Result, answer.Detail, DeviceWords.Of(answer.Result)));
        Next();
    }

    /// <summary>Repeats what has waited too long.</summary>
    /// <returns>False where the device has not answered after all repetitions.</returns>
    public bool Tick()
    {
        if (_outstanding is null || time.GetElapsedTime(_sentAt) < AnswerWait) return true;
        if (_sends >= SendsMax) return false;
        _sends++;
        _sentAt = time.GetTimestamp();
        write(_frame.AsMemory(0, _frameLength));
        return true;
    }

    private void Next()
    {
        if (_outstanding is null && _waiting.TryDequeue(out Waiting? next)) Transmit(next);
    }

    private void Transmit(Waiting command)
    {
        // Counting up from 1, skipping 0 when it wraps.
        if (++_lastNumber == 0) _lastNumber = 1;
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        int length = command.Writer(_lastNumber, payload);
        _lastType = (MessageType)payload[0];
        // A fresh buffer: a write of the one before may still be under way on the line.
        _frame = new byte[FrameLimits.WireBytesMax];
        _frameLength = FrameEncoder.Encode(payload[..length], _frame);
        _outstanding = command;
        _sends = 1;
        _sentAt = time.GetTimestamp();
        write(_frame.AsMemory(0, _frameLength));
    }

    private sealed record Waiting(CommandWriter Writer, Action<CommandOutcome> Done)
    {
        public bool IsStop { get; init; }
    }
}

/// <summary>Writes the payload of a command that carries a number.</summary>
internal delegate int CommandWriter(ushort number, Span<byte> payload);
