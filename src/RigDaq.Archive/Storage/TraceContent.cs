using System.Buffers.Binary;
using System.Runtime.InteropServices;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Storage;

/// <summary>All raw values of a pull: the samples of the force, and those of the channels besides it.</summary>
/// <param name="Samples">Of the force.</param>
/// <param name="Channels">Of the channels that have any, by their index.</param>
internal sealed record TraceContent(IReadOnlyList<RawSample> Samples, IReadOnlyList<ChannelTrace> Channels)
{
    /// <summary>A document may hold 16 MB: longer traces go into several of them.</summary>
    public const int SamplesAPiece = 500_000;

    /// <summary>The same of a channel's values, which have fewer columns.</summary>
    public const int ValuesAPiece = 1_000_000;

    public static TraceContent Nothing { get; } = new([], []);

    public static TraceContent Of(RawTrace trace)
        => new(trace.Samples, [.. trace.Channels.Where(channel => channel.Samples.Count > 0).OrderBy(channel => channel.Index)]);

    /// <summary>Gathers what single stretches hold, in the order in which they come.</summary>
    /// <param name="pieces">Packed ones, of this version or of one before.</param>
    /// <exception cref="InvalidDataException">One is neither.</exception>
    public static TraceContent Of(IEnumerable<byte[]> pieces)
    {
        var samples = new List<RawSample>();
        var channels = new SortedDictionary<int, List<ChannelSample>>();
        foreach (byte[] piece in pieces)
        {
            if (!TracePacking.IsPacked(piece)) AddColumns(TraceCodec.Unpack(piece));
            else if (TracePacking.IsOfChannel(piece)) Add(channels, TracePacking.UnpackChannel(piece));
            else samples.AddRange(TracePacking.Unpack(piece));
        }

        return new TraceContent(samples, [.. channels.Select(channel => new ChannelTrace(channel.Key, channel.Value))]);

        void AddColumns(byte[] columns)
        {
            if (TraceCodec.IsOfChannel(columns)) Add(channels, TraceCodec.DecodeChannel(columns));
            else samples.AddRange(TraceCodec.Decode(columns));
        }
    }

    /// <summary>Puts a stretch of a channel behind what was there of it.</summary>
    public static void Add(SortedDictionary<int, List<ChannelSample>> channels, ChannelTrace stretch)
    {
        if (!channels.TryGetValue(stretch.Index, out List<ChannelSample>? kept)) channels[stretch.Index] = kept = [];
        kept.AddRange(stretch.Samples);
    }

    /// <summary>The same, packed, piece by piece: the samples first.</summary>
    public List<byte[]> Pack()
    {
        List<byte[]> pieces = Pack(Samples);
        foreach (ChannelTrace channel in Channels) pieces.AddRange(Pack(channel));
        return pieces;
    }

    /// <summary>The samples, packed, piece by piece.</summary>
    public static List<byte[]> Pack(IReadOnlyList<RawSample> samples)
    {
        RawSample[] all = [.. samples];
        var pieces = new List<byte[]>();
        for (int at = 0; at < all.Length; at += SamplesAPiece)
        {
            pieces.Add(TracePacking.Pack(all.AsSpan(at, Math.Min(SamplesAPiece, all.Length - at))));
        }

        return pieces;
    }

    /// <summary>The checksum of samples, however they are packed.</summary>
    public static uint ChecksumOf(IReadOnlyList<RawSample> samples) => Checksum.Of(TraceCodec.Encode([.. samples]));

    /// <summary>One channel, packed.</summary>
    public static IEnumerable<byte[]> Pack(ChannelTrace channel)
    {
        ChannelSample[] all = [.. channel.Samples];
        for (int at = 0; at < all.Length; at += ValuesAPiece)
            yield return TracePacking.Pack(channel.Index, all.AsSpan(at, Math.Min(ValuesAPiece, all.Length - at)));
    }

    /// <summary>The checksum of it all; where there are no channels that of the samples, as before there were any.</summary>
    public uint Checksum32()
    {
        uint checksum = ChecksumOf(Samples);
        foreach (ChannelTrace channel in Channels) checksum = With(checksum, channel);
        return checksum;
    }

    /// <summary>The checksum of what was there and a further channel.</summary>
    public static uint With(uint before, ChannelTrace channel)
    {
        Span<byte> start = stackalloc byte[sizeof(uint)];
        BinaryPrimitives.WriteUInt32LittleEndian(start, before);
        return
            Checksum.Of(start,
            TraceCodec.Encode(channel.Index, channel.Samples as ChannelSample[] ?? CollectionsMarshal.AsSpan([.. channel.Samples])));
    }

    /// <summary>A trace with these values.</summary>
    public RawTrace In(RawTrace trace) => trace with { Samples = Samples, Channels = Channels };
}
