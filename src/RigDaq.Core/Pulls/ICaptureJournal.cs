using RigDaq.Core.Signal;

namespace RigDaq.Core.Pulls;

/// <summary>Where the samples of a pull go while it lasts: an append-only, checksummed file a pull, so that no crash loses more than the
/// last 100 ms. Captures are kept for good.</summary>
public interface ICaptureJournal
{
    /// <summary>Creates the capture of a pull; its head is on the disk when this returns.</summary>
    /// <exception cref="IOException">The disk is full or not writable: no pull may start.</exception>
    ICaptureWriter Begin(PullHead head);

    /// <summary>The captures whose run is not stored, as found at start: those that were begun and never completed come as interrupted,
    /// those that ended and could not be stored any more keep their ending. Each is to become a run.</summary>
    IReadOnlyList<PullRecord> FindUnfinished();
}

/// <summary>Writes one capture. Used by one thread at a time.</summary>
public interface ICaptureWriter : IDisposable
{
    /// <summary>Appends samples; they are handed to the operating system within 100 ms.</summary>
    /// <exception cref="IOException">The disk failed: the pull is to be stopped.</exception>
    void Append(ReadOnlySpan<RawSample> samples);

    /// <summary>Appends values of a channel that the capture's head describes; the same holds.</summary>
    /// <exception cref="IOException">The disk failed: the pull is to be stopped.</exception>
    void AppendChannel(int channel, ReadOnlySpan<ChannelSample> values);

    /// <summary>Closes the capture with all that is known of the pull besides its samples; on the disk when this returns.</summary>
    void Complete(PullRecord pull);
}
