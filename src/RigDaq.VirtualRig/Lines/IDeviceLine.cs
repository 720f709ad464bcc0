namespace RigDaq.Virtual.Lines;

/// <summary>The device's end of a line. Never blocks; used under the rig's lock only.</summary>
internal interface IDeviceLine : IDisposable
{
    /// <summary>Whether somebody listens at the other end.</summary>
    bool IsConnected { get; }

    /// <summary>Takes what has arrived.</summary>
    /// <returns>How many bytes; 0 where there are none.</returns>
    int Read(Span<byte> buffer);

    /// <summary>Gives bytes to the line.</summary>
    /// <returns>How many it took; 0 where it is full.</returns>
    int Write(ReadOnlySpan<byte> bytes);
}
