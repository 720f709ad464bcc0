using RigDaq.Text;

namespace RigDaq.Rig.Links;

/// <summary>What a link has to tell beyond its bytes. Immutable.</summary>
/// <param name="Words">What a person should know, each with what to do.</param>
/// <param name="StampStandardUncertaintySeconds">How well the stamps of samples are known where they are made on this side; 0 for a
/// device's own clock.</param>
/// <param name="LinesDropped">Lines that were not understood; 0 where the device does not print lines.</param>
public sealed record LinkNews(IReadOnlyList<Sentence> Words, double StampStandardUncertaintySeconds, long LinesDropped)
{
    /// <summary>Nothing to tell.</summary>
    public static LinkNews None { get; } = new([], 0, 0);
}
