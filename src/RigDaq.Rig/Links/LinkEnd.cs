using RigDaq.Text;

namespace RigDaq.Rig.Links;

/// <summary>How a link ended.</summary>
public enum LinkEndKind
{
    /// <summary>This side closed it.</summary>
    ClosedHere,

    /// <summary>The device or its cable went away.</summary>
    Vanished,

    /// <summary>A write failed or took too long.</summary>
    WriteFailed,

    /// <summary>It was open but silent for too long.</summary>
    NoData,

    /// <summary>What arrived was not the wire that is spoken here: another version, another baud rate.</summary>
    NotUnderstood,
}

/// <summary>Why a link ended.</summary>
/// <param name="Kind">How.</param>
/// <param name="Message">What happened, where, and what to do.</param>
public sealed record LinkEnd(LinkEndKind Kind, Sentence Message);
