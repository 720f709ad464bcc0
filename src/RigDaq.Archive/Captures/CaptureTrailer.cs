using RigDaq.Core.Pulls;
using RigDaq.Text;

namespace RigDaq.Archive.Captures;

/// <summary>How a capture ended.</summary>
/// <param name="Ending">The pull's ending.</param>
/// <param name="Reason">Why, in words.</param>
/// <param name="EndedAt">When.</param>
/// <param name="Samples">How many samples it holds, as a check.</param>
internal sealed record CaptureTrailer(PullEnding Ending, Sentence Reason, DateTimeOffset EndedAt, long Samples)
{
    /// <summary>How many values of channels it holds, as a check; 0 in captures of before there were any.</summary>
    public long ChannelValues { get; init; }

    /// <summary>All that was known of the pull, without its samples; null in captures of before this was kept.</summary>
    public PullRecord? Pull { get; init; }

    public static CaptureTrailer Of(PullRecord pull, long samples, long channelValues) =>
        new(pull.Ending, pull.Reason, pull.EndedAt, samples)
        { ChannelValues = channelValues, Pull = pull with { Trace = pull.Trace with { Samples = [] } } };
}
