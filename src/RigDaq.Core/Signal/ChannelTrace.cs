namespace RigDaq.Core.Signal;

/// <summary>One value of a channel as the device sent it.</summary>
/// <param name="Number">The number of the conversion of the force that it belongs to; its time is that conversion's stamp.</param>
/// <param name="Raw">Within 24 bits; <see cref="ChannelHead.NoValue"/> for none.</param>
public readonly record struct ChannelSample(long Number, int Raw);

/// <summary>The values of one channel over a pull. Immutable by convention.</summary>
/// <param name="Index">Which: <see cref="ChannelHead.Index"/>.</param>
/// <param name="Samples">In the order of their numbers.</param>
public sealed record ChannelTrace(int Index, IReadOnlyList<ChannelSample> Samples);
