using System.IO.Pipelines;

namespace RigDaq.Rig.Links;

/// <summary>An open line to a device: bytes both ways and nothing more. It ends once, for a reason that a person can read, and is then of
/// no further use; an <see cref="IRigLinkOpener"/> opens the next one.</summary>
public interface IRigLink : IAsyncDisposable
{
    /// <summary>What it leads to, for people: a path with its rate, or "virtual rig".</summary>
    string Name { get; }

    /// <summary>What the device sends. It completes when the link ends. One reader at a time, and reads are never cancelled.</summary>
    PipeReader Input { get; }

    /// <summary>Completes when the link ends, with the reason. Never faults.</summary>
    Task<LinkEnd> Closed { get; }

    /// <summary>What it carries in a second, where its rate says so; null where it does not: a link within the process.</summary>
    double? BytesPerSecond => null;

    /// <summary>Sends bytes. Bounded by <see cref="LinkTimes.WriteMax"/>: a write that fails or takes longer ends the link, because half a
    /// frame may be on the line.</summary>
    /// <exception cref="IOException">The link has ended, or ends by this write.</exception>
    ValueTask WriteAsync(ReadOnlyMemory<byte> bytes);

    /// <summary>Ends the link from this side, for example because nothing has arrived for too long.</summary>
    void Close(LinkEnd reason);
}

/// <summary>Opens the line to a device, again and again: devices come and go.</summary>
public interface IRigLinkOpener
{
    /// <summary>What it leads to, for people.</summary>
    string Name { get; }

    /// <summary>Opens the line.</summary>
    /// <exception cref="LinkOpenException">It could not be opened; the message says what, where and what to do.</exception>
    ValueTask<IRigLink> OpenAsync(CancellationToken cancellation);
}
