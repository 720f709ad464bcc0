using RigDaq.Archive.Text;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Storage;

/// <summary>
/// Samples, or values of a channel, as packed columns (<see cref="PackedColumn"/>): a mark, what it is, the channel, how many, and the
/// columns one after another.
/// </summary>
internal static class TracePacking
{
    // No Brotli stream begins so (RFC 7932, 9.1: the bits 0010001 are not to be used), and that is what was kept before.
    private const byte Mark = 0x11;
    private const byte SamplesKind = 1;
    private const byte ChannelKind = 2;
    private const int ByteBits = 8;
    private const int CountBits = 32;
    private const int HeadBytes = 7;

    /// <summary>Whether a piece was packed here, and not by Brotli as before.</summary>
    public static bool IsPacked(ReadOnlySpan<byte> piece) => piece.Length > 0 && piece[0] == Mark;

    /// <summary>Whether a piece that was packed here is a channel's.</summary>
    public static bool IsOfChannel(ReadOnlySpan<byte> piece) => piece.Length > 1 && piece[1] == ChannelKind;

    /// <param name="samples">At most <see cref="TraceContent.SamplesAPiece"/>.</param>
    public static byte[] Pack(ReadOnlySpan<RawSample> samples)
    {
        BitWriter bits = Begin(SamplesKind, 0, samples.Length);
        long[] column = new long[samples.Length];
        for (int i = 0; i < column.Length; i++) column[i] = samples[i].Number;
        PackedColumn.Write(bits, column);
        for (int i = 0; i < column.Length; i++) column[i] = samples[i].DeviceMicroseconds;
        PackedColumn.Write(bits, column);
        for (int i = 0; i < column.Length; i++) column[i] = samples[i].Counts;
        PackedColumn.Write(bits, column);
        for (int i = 0; i < column.Length; i++) column[i] = samples[i].CrossheadSteps;
        PackedColumn.Write(bits, column);
        return bits.ToArray();
    }

    /// <param name="channel">Which.</param>
    /// <param name="values">At most <see cref="TraceContent.ValuesAPiece"/>.</param>
    public static byte[] Pack(int channel, ReadOnlySpan<ChannelSample> values)
    {
        BitWriter bits = Begin(ChannelKind, channel, values.Length);
        long[] column = new long[values.Length];
        for (int i = 0; i < column.Length; i++) column[i] = values[i].Number;
        PackedColumn.Write(bits, column);
        for (int i = 0; i < column.Length; i++) column[i] = values[i].Raw;
        PackedColumn.Write(bits, column);
        return bits.ToArray();
    }

    /// <exception cref="InvalidDataException">They are no packed samples.</exception>
    public static RawSample[] Unpack(ReadOnlySpan<byte> piece)
    {
        var bits = new BitReader(piece);
        (_, int count) = Head(ref bits, SamplesKind, piece.Length, TraceContent.SamplesAPiece);
        long[] numbers = new long[count], stamps = new long[count], counts = new long[count], steps = new long[count];
        PackedColumn.Read(ref bits, numbers);
        PackedColumn.Read(ref bits, stamps);
        PackedColumn.Read(ref bits, counts);
        PackedColumn.Read(ref bits, steps);
        bits.End();
        var samples = new RawSample[count];
        for (int i = 0; i < count; i++) samples[i] = new RawSample(numbers[i], stamps[i], (int)counts[i], (int)steps[i]);
        return samples;
    }

    /// <exception cref="InvalidDataException">They are no packed values of a channel.</exception>
    public static ChannelTrace UnpackChannel(ReadOnlySpan<byte> piece)
    {
        var bits = new BitReader(piece);
        (int channel, int count) = Head(ref bits, ChannelKind, piece.Length, TraceContent.ValuesAPiece);
        long[] numbers = new long[count], raw = new long[count];
        PackedColumn.Read(ref bits, numbers);
        PackedColumn.Read(ref bits, raw);
        bits.End();
        var values = new ChannelSample[count];
        for (int i = 0; i < count; i++) values[i] = new ChannelSample(numbers[i], (int)raw[i]);
        return new ChannelTrace(channel, values);
    }

    private static BitWriter Begin(byte kind, int channel, int count)
    {
        // Two bytes a value are more than noise of a good converter takes.
        var bits = new BitWriter(HeadBytes + (2 * count));
        bits.Write(Mark, ByteBits);
        bits.Write(kind, ByteBits);
        bits.Write((ulong)channel, ByteBits);
        bits.Write((ulong)count, CountBits);
        return bits;
    }

    private static (int Channel, int Count) Head(ref BitReader bits, byte kind, int bytes, int most)
    {
        if (bytes < HeadBytes || bits.Read(ByteBits) != Mark || bits.Read(ByteBits) != kind)
            throw new InvalidDataException(ArchiveText.SamplesLayoutUnknown);
        ulong channel = bits.Read(ByteBits), count = bits.Read(CountBits);
        if (channel >= ChannelHead.ChannelsMax) throw new InvalidDataException(ArchiveText.SamplesLayoutUnknown);
        // A block of zeros takes less than a byte: what bounds a damaged count is what one piece may hold.
        if (count > (ulong)most) throw new InvalidDataException(ArchiveText.SamplesTooMany);
        return ((int)channel, (int)count);
    }
}
