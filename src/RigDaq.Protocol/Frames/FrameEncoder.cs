using System.Buffers.Binary;

namespace RigDaq.Protocol.Frames;

/// <summary>Turns a payload into the bytes of one frame: zero, stuffed payload and checksum, zero.</summary>
public static class FrameEncoder
{
    /// <summary>Writes the frame of <paramref name="payload"/> into <paramref name="destination"/>.</summary>
    /// <param name="payload">Type byte and body; 1 to <see cref="FrameLimits.PayloadBytesMax"/> bytes.</param>
    /// <param name="destination">At least <see cref="FrameLimits.WireBytesMax"/> bytes.</param>
    /// <returns>The number of bytes of the frame.</returns>
    /// <exception cref="ArgumentException">The payload is empty or too long, or the destination too short.</exception>
    public static int Encode(ReadOnlySpan<byte> payload, Span<byte> destination)
    {
        if (payload.IsEmpty || payload.Length > FrameLimits.PayloadBytesMax)
            throw new ArgumentException($"A payload has 1 to {FrameLimits.PayloadBytesMax} bytes, not {payload.Length}.", nameof(payload));
        Span<byte> content = stackalloc byte[payload.Length + FrameLimits.ChecksumBytes];
        payload.CopyTo(content);
        BinaryPrimitives.WriteUInt16LittleEndian(content[payload.Length..], Crc16.Compute(payload));
        destination[0] = FrameLimits.Delimiter;
        int encoded = Cobs.Encode(content, destination[1..]);
        destination[1 + encoded] = FrameLimits.Delimiter;
        return encoded + 2;
    }
}
