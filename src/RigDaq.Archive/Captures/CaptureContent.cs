using System.Text;
using System.Text.Json;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Captures;

/// <summary>What a capture holds, read past any damage: each record that is whole is used, the rest is said.</summary>
internal sealed class CaptureContent
{
    /// <summary>Null where it cannot be read: then nothing of the capture can be used without a person.</summary>
    public PullHead? Head { get; private set; }

    public List<RawSample> Samples { get; } = [];

    /// <summary>The values of the channels besides the force, by their index.</summary>
    public SortedDictionary<int, List<ChannelSample>> Channels { get; } = [];

    /// <summary>Its raw values.</summary>
    public TraceContent Content => new(Samples, [.. Channels.Select(channel => new ChannelTrace(channel.Key, channel.Value))]);

    /// <summary>Null where the pull was cut short.</summary>
    public CaptureTrailer? Trailer { get; private set; }

    /// <summary>Whether it was packed once its run was stored.</summary>
    public bool IsPacked { get; private set; }

    /// <summary>Bytes that belong to no whole record before the last whole one: damage, not a torn tail.</summary>
    public long DamagedBytes { get; private set; }

    /// <summary>Bytes after the last whole record: a block that was being written when the program ended.</summary>
    public long TornBytes { get; private set; }

    /// <summary>Whether all that was written is here.</summary>
    public bool Whole => Head is not null && DamagedBytes == 0 && TornBytes == 0 && (Trailer is null
        || (Trailer.Samples == Samples.Count && Trailer.ChannelValues == Channels.Values.Sum(values => (long)values.Count)));

    public static CaptureContent Read(string path) => Read(File.ReadAllBytes(path));

    public static CaptureContent Read(ReadOnlySpan<byte> bytes)
    {
        var capture = new CaptureContent();
        int at = bytes.StartsWith(CaptureFormat.Name) ? CaptureFormat.Name.Length : 0;
        int unread = 0;
        while (at < bytes.Length)
        {
            if (CaptureFormat.TryRead(bytes[at..], out byte kind, out ReadOnlySpan<byte> content) && capture.Take(kind, content))
            {
                capture.DamagedBytes += unread;
                unread = 0;
                at += CaptureFormat.RecordHeadBytes + content.Length;
                continue;
            }

            // Not a record: look for the next mark.
            int next = bytes[(at + 1)..].IndexOf(CaptureFormat.Mark);
            int skipped = next < 0 ? bytes.Length - at : next + 1;
            unread += skipped;
            at += skipped;
        }

        capture.TornBytes = unread;
        return capture;
    }

    /// <summary>As a pull: interrupted where there is no trailer.</summary>
    public PullRecord? ToPull()
    {
        if ((Head ?? Trailer?.Pull?.Head) is not { } head) return null;
        var trace = new RawTrace
        {
            Samples = Samples,
            Channels = Content.Channels,
            IntervalSeconds = head.IntervalSeconds,
            StepsPerMillimetre = head.StepsPerMillimetre,
            ConverterDelaySeconds = head.ConverterDelaySeconds,
        };
        if (Trailer?.Pull is { } ended) return ended with { Head = head, Trace = trace };
        return new PullRecord
        {
            Head = head,
            Ending = Trailer?.Ending ?? PullEnding.Interrupted,
            Reason = Trailer?.Reason ?? ArchiveText.CaptureCutShort(Samples.Count),
            EndedAt = Trailer?.EndedAt ?? head.StartedAt + Lasted(),
            Trace = trace,
        };
    }

    private TimeSpan Lasted() =>
        Samples.Count == 0 ? TimeSpan.Zero : TimeSpan.FromMicroseconds(Samples[^1].DeviceMicroseconds - Samples[0].DeviceMicroseconds);

    private bool Take(byte kind, ReadOnlySpan<byte> content)
    {
        try
        {
            switch (kind)
            {
                case CaptureFormat.HeadKind:
                    Head ??= RecordText.Read<PullHead>(Encoding.UTF8.GetString(content));
                    return true;
                case CaptureFormat.BlockKind:
                    Samples.AddRange(TraceCodec.Decode(content));
                    return true;
                case CaptureFormat.ChannelKind:
                    TraceContent.Add(Channels, TraceCodec.DecodeChannel(content));
                    return true;
                case CaptureFormat.TrailerKind:
                    Trailer ??= RecordText.Read<CaptureTrailer>(Encoding.UTF8.GetString(content));
                    return true;
                case CaptureFormat.PackedHeadKind:
                    Head ??= RecordText.Read<PullHead>(PackedText.Read(content));
                    IsPacked = true;
                    return true;
                case CaptureFormat.PackedTrailerKind:
                    Trailer ??= RecordText.Read<CaptureTrailer>(PackedText.Read(content));
                    return true;
                case CaptureFormat.PackedKind when TracePacking.IsOfChannel(content):
                    TraceContent.Add(Channels, TracePacking.UnpackChannel(content));
                    return true;
                case CaptureFormat.PackedKind:
                    Samples.AddRange(TracePacking.Unpack(content));
                    return true;
                default:
                    // A kind that a later version added: skipped.
                    return true;
            }
        }
        catch (Exception e) when (e is JsonException or InvalidDataException)
        {
            return false;
        }
    }
}
