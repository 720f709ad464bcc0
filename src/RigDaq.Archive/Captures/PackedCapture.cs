using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Captures;

/// <summary>A whole capture in few bytes: what one becomes once its run is stored, and how one is written that came another way than the
/// wire.</summary>
internal static class PackedCapture
{
    /// <summary>Samples that share a record, and that its damage costs.</summary>
    public const int SamplesARecord = 4096;

    public static byte[] Of(PullRecord pull) => Of(pull.Head,
        CaptureTrailer.Of(pull, pull.Trace.Samples.Count, pull.Trace.Channels.Sum(channel => (long)channel.Samples.Count)),
        TraceContent.Of(pull.Trace));

    public static byte[] Of(PullHead head, CaptureTrailer trailer, TraceContent content)
    {
        using var file = new MemoryStream();
        file.Write(CaptureFormat.Name);
        file.Write(CaptureFormat.Record(CaptureFormat.PackedHeadKind, PackedText.Of(head)));
        foreach (RawSample[] some in content.Samples.Chunk(SamplesARecord))
        {
            file.Write(CaptureFormat.Record(CaptureFormat.PackedKind, TracePacking.Pack(some)));
        }

        foreach (ChannelTrace channel in content.Channels)
        {
            foreach (ChannelSample[] some in channel.Samples.Chunk(SamplesARecord))
            {
                file.Write(CaptureFormat.Record(CaptureFormat.PackedKind, TracePacking.Pack(channel.Index, some)));
            }
        }

        file.Write(CaptureFormat.Record(CaptureFormat.PackedTrailerKind, PackedText.Of(trailer)));
        return file.ToArray();
    }
}
