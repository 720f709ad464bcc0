using System.IO.Compression;
using RigDaq.Archive.Text;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Storage;

/// <summary>
/// Samples as bytes, without loss: four columns one after another (number, stamp, counts, steps), each as differences
/// written as variable-length integers. The stamp's column holds differences of differences, because a converter's
/// interval hardly varies. A capture is written so, and a trace's checksum is that of these bytes, however it is packed.
/// </summary>
internal static class TraceCodec
{
    private const byte Layout = 1;
    private const byte ChannelLayout = 2;
    private const int Columns = 4;
    private const int LongestInteger = 10;

    /// <summary>The columns, unpacked: what a capture's block holds.</summary>
    public static byte[] Encode(ReadOnlySpan<RawSample> samples)
    {
        byte[] bytes = new byte[1 + LongestInteger + (samples.Length * Columns * LongestInteger)];
        bytes[0] = Layout;
        int at = 1;
        VarInt.Write(bytes, ref at, (ulong)samples.Length);

        long last = 0, lastDifference = 0;
        foreach (RawSample sample in samples)
        {
            VarInt.WriteSigned(bytes, ref at, sample.Number - last - 1);
            last = sample.Number;
        }

        last = 0;
        foreach (RawSample sample in samples)
        {
            long difference = sample.DeviceMicroseconds - last;
            VarInt.WriteSigned(bytes, ref at, difference - lastDifference);
            (last, lastDifference) = (sample.DeviceMicroseconds, difference);
        }

        last = 0;
        foreach (RawSample sample in samples)
        {
            VarInt.WriteSigned(bytes, ref at, sample.Counts - last);
            last = sample.Counts;
        }

        last = 0;
        foreach (RawSample sample in samples)
        {
            VarInt.WriteSigned(bytes, ref at, sample.CrossheadSteps - last);
            last = sample.CrossheadSteps;
        }

        return bytes.AsSpan(0, at).ToArray();
    }

    /// <exception cref="InvalidDataException">The bytes are not such columns.</exception>
    public static RawSample[] Decode(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 2 || bytes[0] != Layout) throw new InvalidDataException(ArchiveText.SamplesLayoutUnknown);
        int at = 1;
        ulong count = VarInt.Read(bytes, ref at);
        // Each sample takes a byte a column at least: a damaged count cannot ask for more memory than that.
        if (count > (ulong)(bytes.Length - at) / Columns) throw new InvalidDataException(ArchiveText.SamplesTooMany);
        var numbers = new long[count];
        var stamps = new long[count];
        var counts = new int[count];
        var samples = new RawSample[count];

        long last = 0, lastDifference = 0;
        for (int i = 0; i < numbers.Length; i++) last = numbers[i] = last + 1 + VarInt.ReadSigned(bytes, ref at);
        last = 0;
        for (int i = 0; i < stamps.Length; i++)
        {
            lastDifference += VarInt.ReadSigned(bytes, ref at);
            last = stamps[i] = last + lastDifference;
        }

        last = 0;
        for (int i = 0; i < counts.Length; i++) counts[i] = (int)(last += VarInt.ReadSigned(bytes, ref at));
        last = 0;
        for (int i = 0; i < samples.Length; i++)
        {
            last += VarInt.ReadSigned(bytes, ref at);
            samples[i] = new RawSample(numbers[i], stamps[i], counts[i], (int)last);
        }

        if (at != bytes.Length) throw new InvalidDataException(ArchiveText.SamplesTooLong);
        return samples;
    }

    /// <summary>Values of one channel: which, how many, their numbers, what they are.</summary>
    public static byte[] Encode(int channel, ReadOnlySpan<ChannelSample> values)
    {
        byte[] bytes = new byte[1 + (2 * LongestInteger) + (values.Length * 2 * LongestInteger)];
        bytes[0] = ChannelLayout;
        int at = 1;
        VarInt.Write(bytes, ref at, (ulong)channel);
        VarInt.Write(bytes, ref at, (ulong)values.Length);
        long last = 0, lastDifference = 0;
        foreach (ChannelSample value in values)
        {
            long difference = value.Number - last;
            VarInt.WriteSigned(bytes, ref at, difference - lastDifference);
            (last, lastDifference) = (value.Number, difference);
        }

        last = 0;
        foreach (ChannelSample value in values)
        {
            VarInt.WriteSigned(bytes, ref at, value.Raw - last);
            last = value.Raw;
        }

        return bytes.AsSpan(0, at).ToArray();
    }

    /// <summary>Whether these are a channel's columns and not those of samples.</summary>
    public static bool IsOfChannel(ReadOnlySpan<byte> bytes) => bytes.Length > 0 && bytes[0] == ChannelLayout;

    /// <exception cref="InvalidDataException">The bytes are not such columns.</exception>
    public static ChannelTrace DecodeChannel(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 3 || bytes[0] != ChannelLayout) throw new InvalidDataException(ArchiveText.SamplesLayoutUnknown);
        int at = 1;
        ulong channel = VarInt.Read(bytes, ref at), count = VarInt.Read(bytes, ref at);
        if (channel >= ChannelHead.ChannelsMax) throw new InvalidDataException(ArchiveText.SamplesLayoutUnknown);
        if (count > (ulong)(bytes.Length - at) / 2) throw new InvalidDataException(ArchiveText.SamplesTooMany);
        var numbers = new long[count];
        var values = new ChannelSample[count];
        long last = 0, lastDifference = 0;
        for (int i = 0; i < numbers.Length; i++)
        {
            lastDifference += VarInt.ReadSigned(bytes, ref at);
            last = numbers[i] = last + lastDifference;
        }

        last = 0;
        for (int i = 0; i < values.Length; i++) values[i] = new ChannelSample(numbers[i], (int)(last += VarInt.ReadSigned(bytes, ref at)));
        if (at != bytes.Length) throw new InvalidDataException(ArchiveText.SamplesTooLong);
        return new ChannelTrace((int)channel, values);
    }

    /// <summary>Columns that were packed with Brotli (RFC 7932): what a database of before schema 4 holds.</summary>
    /// <exception cref="InvalidDataException">The bytes are not packed columns.</exception>
    public static byte[] Unpack(byte[] packed)
    {
        using var columns = new MemoryStream();
        try
        {
            using var brotli = new BrotliStream(new MemoryStream(packed), CompressionMode.Decompress);
            brotli.CopyTo(columns);
        }
        catch (InvalidOperationException e)
        {
            throw new InvalidDataException(ArchiveText.SamplesNotUnpacked, e);
        }

        return columns.ToArray();
    }
}
