using System.Buffers.Binary;

namespace RigDaq.Protocol.Frames;

/// <summary>Finds frames in a stream of bytes. Whatever comes between two delimiters and is no whole frame is counted and dropped, so that
/// any garbage costs at most the frame it fell into.</summary>
/// <remarks>Not safe for concurrent use. Allocates its two buffers once and nothing a frame.</remarks>
public sealed class FrameDecoder
{
    private readonly byte[] _encoded = new byte[FrameLimits.EncodedBytesMax];
    private readonly byte[] _content = new byte[FrameLimits.ContentBytesMax];
    private int _encodedLength;
    private bool _tooLong;

    /// <summary>Frames found whole since the start.</summary>
    public long FramesGood { get; private set; }

    /// <summary>Stretches between delimiters that were no frame: wrong checksum, wrong stuffing, too long or too short.</summary>
    public long FramesBad { get; private set; }

    /// <summary>Takes bytes from the front of <paramref name="input"/> up to the end of the next whole frame. Call again with the rest
    /// until it returns false.</summary>
    /// <param name="input">What has arrived; shortened by what was taken.</param>
    /// <param name="payload">Type byte and body; valid until the next call.</param>
    /// <returns>True where a frame was found, false where the input is used up.</returns>
    public bool TryRead(ref ReadOnlySpan<byte> input, out ReadOnlySpan<byte> payload)
    {
        while (!input.IsEmpty)
        {
            int end = input.IndexOf(FrameLimits.Delimiter);
            ReadOnlySpan<byte> piece = end < 0 ? input : input[..end];
            Gather(piece);
            input = end < 0 ? [] : input[(end + 1)..];
            if (end >= 0 && Close(out payload)) return true;
        }

        payload = [];
        return false;
    }

    private void Gather(ReadOnlySpan<byte> piece)
    {
        if (_tooLong || piece.Length > _encoded.Length - _encodedLength)
        {
            _tooLong = true;
            return;
        }

        piece.CopyTo(_encoded.AsSpan(_encodedLength));
        _encodedLength += piece.Length;
    }

    private bool Close(out ReadOnlySpan<byte> payload)
    {
        payload = [];
        int length = _encodedLength;
        bool tooLong = _tooLong;
        _encodedLength = 0;
        _tooLong = false;
        // Frames have a delimiter before and after: an empty stretch is the seam between two, not a fault.
        if (length == 0 && !tooLong) return false;
        int content = tooLong ? -1 : Cobs.Decode(_encoded.AsSpan(0, length), _content);
        int payloadLength = content - FrameLimits.ChecksumBytes;
        if (payloadLength < 1
            || BinaryPrimitives.ReadUInt16LittleEndian(_content.AsSpan(payloadLength)) != Crc16.Compute(_content.AsSpan(0, payloadLength)))
        {
            FramesBad++;
            return false;
        }

        FramesGood++;
        payload = _content.AsSpan(0, payloadLength);
        return true;
    }
}
