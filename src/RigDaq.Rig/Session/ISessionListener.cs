using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;

namespace RigDaq.Rig.Session;

/// <summary>Who is told what a session learns; called on the thread that feeds the session.</summary>
internal interface ISessionListener
{
    /// <summary>The device has said what it is, and its version is understood.</summary>
    void DeviceKnown(HelloMessage hello);

    /// <summary>The device is another start than before: nothing that was said to it holds any more.</summary>
    void DeviceRestarted();

    /// <summary>A block came: the full state, and samples (perhaps none).</summary>
    void BlockArrived(in BlockHead head, ReadOnlySpan<RawSample> samples);

    /// <summary>An event came, for the first time.</summary>
    void EventArrived(EventMessage message);

    /// <summary>Before the next event: so many had no room in the device, and what they told is known from its state only.</summary>
    void EventsMissed(int count);

    /// <summary>A channel besides the force was described, and its description can be used.</summary>
    void ChannelDescribed(ChannelHead head)
    {
    }

    /// <summary>Values of a channel that was described came, with the numbers of their conversions.</summary>
    void ChannelArrived(ChannelHead head, ReadOnlySpan<ChannelSample> values)
    {
    }

    /// <summary>The session is of no further use: the link is to be ended for this reason.</summary>
    void SessionFailed(LinkEnd end);
}

/// <summary>What stands at the head of a block, unwrapped.</summary>
/// <param name="State">The full state.</param>
/// <param name="DeviceMicroseconds">The first sample's stamp; with no samples: now.</param>
/// <param name="Steps">The position at the last sample; with no samples: now.</param>
/// <param name="PeriodNanoseconds">The converter's period; 0 where the device does not know it yet.</param>
/// <param name="LostBefore">Samples that are missing before the first one.</param>
/// <param name="ArrivedAt">A timestamp of the time provider, for latencies only.</param>
internal readonly record struct BlockHead(DeviceState State, long DeviceMicroseconds, int Steps, uint PeriodNanoseconds, long LostBefore,
    long ArrivedAt);
