using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual.Physics;

/// <summary>A sensor besides the cell: what is true becomes raw values. Deterministic by seed.</summary>
internal sealed class ChannelSensor(VirtualChannel channel, SeededRandom random)
{
    private const double WanderDegrees = 0.3;
    private const double WanderSeconds = 600;

    /// <summary>What it is made of.</summary>
    public VirtualChannel Channel => channel;

    /// <summary>One value, or <see cref="ChannelSamplesMessage.NoValue"/>.</summary>
    public int Convert(RigPhysics physics)
    {
        double noise = channel.Noise * random.NextGaussian();
        if (True(physics) is not { } value || Math.Abs(value) > channel.Range) return ChannelSamplesMessage.NoValue;
        return channel.Zero + (int)Math.Round((value + noise) * channel.RawPerUnit);
    }

    private double? True(RigPhysics physics) => channel.Kind switch
    {
        ChannelKind.Force => physics.TrueForceNewtons * (1 + (channel.GainErrorPercent / 100)),
        ChannelKind.Extension => physics.Held?.ExtensionMillimetres * channel.GaugeShare,
        ChannelKind.Temperature => channel.DegreesCelsius + (WanderDegrees * Math.Sin(2 * Math.PI * physics.RigSeconds / WanderSeconds)),
        _ => null,
    };
}
