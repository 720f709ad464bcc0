using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Device;

/// <summary>How a command's number stands to the last one.</summary>
internal enum CommandAge
{
    /// <summary>To be taken.</summary>
    New,

    /// <summary>The last one again: its answer is sent again, nothing is done.</summary>
    Repeated,

    /// <summary>Overtaken by a newer one: nothing is done.</summary>
    Superseded,
}

/// <summary>The last command's number and its answer, so that nothing is done twice and nothing stale is done at all.</summary>
internal sealed class AnswerMemory
{
    private AnswerMessage? _last;

    /// <summary>The number of the last command taken; 0 for none.</summary>
    public ushort LastCommand => _last?.Command ?? 0;

    /// <summary>The last answer; only after a command was taken.</summary>
    public AnswerMessage LastAnswer => _last ?? throw new InvalidOperationException("No command was taken yet.");

    /// <summary>Judges a number; serial-number arithmetic, so that the wrap at 65,535 is no step back.</summary>
    public CommandAge Judge(ushort command) =>
        _last is not { } last || (short)(command - last.Command) > 0 ? CommandAge.New
        : command == last.Command ? CommandAge.Repeated : CommandAge.Superseded;

    /// <summary>Keeps an answer. Number 0 is nobody's.</summary>
    public void Keep(AnswerMessage answer)
    {
        if (answer.Command != 0) _last = answer;
    }

    /// <summary>A restart: no command was taken yet.</summary>
    public void Clear() => _last = null;
}
