using RigDaq.Text;

namespace RigDaq.Rig.Links;

/// <summary>Why a line could not be opened.</summary>
public enum LinkOpenFault
{
    /// <summary>There is no such path.</summary>
    Missing,

    /// <summary>Another program has it.</summary>
    Busy,

    /// <summary>This user may not open it.</summary>
    NoPermission,

    /// <summary>It is there, but cannot be used with these settings, or for another reason that the message tells.</summary>
    Unusable,
}

/// <summary>A line could not be opened. The message names the path, the cause and the remedy.</summary>
public sealed class LinkOpenException : IOException
{
    /// <summary>Creates it.</summary>
    public LinkOpenException(LinkOpenFault fault, Sentence words, Exception? cause = null)
        : base(words, cause) => (Fault, Words) = (fault, words);

    /// <summary>What the message says.</summary>
    public Sentence Words { get; }

    /// <summary>The kind of cause.</summary>
    public LinkOpenFault Fault { get; }
}
