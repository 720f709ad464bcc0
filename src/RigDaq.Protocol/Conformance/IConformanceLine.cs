namespace RigDaq.Protocol.Conformance;

/// <summary>The line to a device under test, with its time: real, or that of a simulator in lock step.</summary>
public interface IConformanceLine
{
    /// <summary>The device's time since the first exchange: what truly went by, which can be more than was asked for.</summary>
    TimeSpan Elapsed { get; }

    /// <summary>Sends bytes, lets at least so much time go by, and gives all that arrived meanwhile.</summary>
    /// <exception cref="IOException">The line has ended.</exception>
    ValueTask<ReadOnlyMemory<byte>> ExchangeAsync(ReadOnlyMemory<byte> toDevice, TimeSpan duration);
}
