namespace RigDaq.Protocol.Frames;

/// <summary>Consistent Overhead Byte Stuffing: rewrites bytes so that none is zero, which leaves zero free to mark frames.</summary>
/// <remarks>Source: Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999.</remarks>
public static class Cobs
{
    private const int BlockMax = 0xFF;

    /// <summary>The greatest encoded length of <paramref name="length"/> bytes, without any closing zero.</summary>
    public static int EncodedLengthMax(int length) => length + 1 + (length / (BlockMax - 1));

    /// <summary>Encodes <paramref name="source"/> into <paramref name="destination"/>, without a closing zero.</summary>
    /// <returns>The number of bytes written.</returns>
    /// <exception cref="ArgumentException">The destination is shorter than <see cref="EncodedLengthMax"/>.</exception>
    public static int Encode(ReadOnlySpan<byte> source, Span<byte> destination)
    {
        if (destination.Length < EncodedLengthMax(source.Length))
            throw new ArgumentException($"The destination needs {EncodedLengthMax(source.Length)} bytes.", nameof(destination));
        int codeAt = 0, write = 1;
        for (int i = 0; i < source.Length; i++)
        {
            if (source[i] != 0) destination[write++] = source[i];
            bool blockFull = write - codeAt == BlockMax;
            if (source[i] != 0 && !blockFull) continue;
            destination[codeAt] = (byte)(write - codeAt);
            // A full block that ends the data needs no further code byte: nothing follows it.
            if (source[i] != 0 && i == source.Length - 1) return write;
            codeAt = write++;
        }

        destination[codeAt] = (byte)(write - codeAt);
        return write;
    }

    /// <summary>Decodes <paramref name="source"/> (without its closing zero) into <paramref name="destination"/>.</summary>
    /// <returns>The number of bytes written, or -1 if the source is not a whole encoding or does not fit.</returns>
    public static int Decode(ReadOnlySpan<byte> source, Span<byte> destination)
    {
        // A frame's blocks are all short, and many: a block a zero.
        if (source.Length < BlockMax) return DecodeShort(source, destination);
        int read = 0, write = 0;
        while (read < source.Length)
        {
            int code = source[read++];
            int length = code - 1;
            if (code == 0 || length > source.Length - read || length > destination.Length - write) return -1;
            ReadOnlySpan<byte> block = source.Slice(read, length);
            if (block.Contains((byte)0)) return -1;
            block.CopyTo(destination[write..]);
            read += length;
            write += length;
            if (code == BlockMax || read == source.Length) continue;
            if (write == destination.Length) return -1;
            destination[write++] = 0;
        }

        return write;
    }

    /// <summary>
    /// The same where no block can be a full one: what comes out is what came in behind its first byte, each further code byte a zero.
    /// </summary>
    private static int DecodeShort(ReadOnlySpan<byte> source, Span<byte> destination)
    {
        if (source.IsEmpty) return 0;
        if (source.Length - 1 > destination.Length || source.Contains((byte)0)) return -1;
        source[1..].CopyTo(destination);
        int at = source[0];
        while (at < source.Length)
        {
            destination[at - 1] = 0;
            at += source[at];
        }

        return at == source.Length ? at - 1 : -1;
    }
}
