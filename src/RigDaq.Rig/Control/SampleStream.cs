using Microsoft.Extensions.Logging;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>The device's stream: its rate, what the line can carry, and the channels besides the force. Nothing is decided by a
/// channel.</summary>
internal sealed class SampleStream(LoopContext loop, DeviceLink link)
{
    private readonly List<ChannelHead> _channels = [];
    private readonly double?[] _now = new double?[ChannelHead.ChannelsMax];
    private readonly List<Sentence> _words = [];
    private double _loadBytesPerSecond;

    /// <summary>What a person should know of the line's load.</summary>
    public IReadOnlyList<Sentence> Words => _words;

    /// <summary>The channels that are switched on, in their order.</summary>
    public IEnumerable<ChannelHead> Channels => _channels.OrderBy(head => head.Index);

    /// <summary>The same with their last values.</summary>
    public ChannelNow[] Now => [.. Channels.Select(head => new ChannelNow(head, _now[head.Index]))];

    /// <summary>Starts the stream, at the wanted rate where device and line bear it (PROTOCOL.md, 13), and asks for the channels.</summary>
    public void Start(HelloMessage hello)
    {
        _channels.Clear();
        _words.Clear();
        Array.Clear(_now);
        double own = hello.ConverterRateMillihertz / 1000.0, rate = own;
        // Where nothing bounds it nothing is too much.
        double carried = Carried(hello) ?? double.PositiveInfinity;
        uint asked = 0;
        if (loop.Options.SampleRateHertz is { } wanted && hello.Capabilities.HasFlag(Capabilities.RateSelectable))
        {
            if (LineLoad.SamplesBytesPerSecond(wanted) > carried) Say(RigText.RateTooMuchForLine(wanted,
                LineLoad.SamplesBytesPerSecond(wanted), carried, own));
            else (asked, rate) = ((uint)Math.Round(wanted * 1000), wanted);
        }

        _loadBytesPerSecond = LineLoad.SamplesBytesPerSecond(rate);
        if (_loadBytesPerSecond > carried * LineLoad.ShareMax) Say(RigText.LineNearlyFull(rate, _loadBytesPerSecond, carried));
        link.Session?.Stream(on: true, asked, outcome =>
        {
            if (!outcome.Done) loop.Log.LogWarning("The device does not start its stream of samples: {Why}.", outcome.Words);
        });
        if (!hello.Capabilities.HasFlag(Capabilities.Channels)) return;
        for (int i = 0; i < hello.Channels; i++)
        {
            int channel = i;
            // Described first, switched on when its share of the line is known.
            link.Session?.Channel(channel, on: false, head => SwitchOn(channel, head, rate, carried));
        }
    }

    /// <summary>Values of a channel came.</summary>
    public void Take(ChannelHead head, ReadOnlySpan<ChannelSample> values) => _now[head.Index] = head.Value(values[^1].Raw);

    /// <summary>What the line carries in a second: as the device says, else as the link's rate says; null where nothing bounds
    /// it.</summary>
    private double? Carried(HelloMessage hello) => hello.LineBytesPerSecond switch
    {
        HelloMessage.LineUnbound => null,
        0 => link.Pump?.Link.BytesPerSecond,
        uint bytes => bytes,
    };

    private void SwitchOn(int channel, ChannelHead? head, double rate, double carried)
    {
        if (head is null)
        {
            Say(RigText.ChannelNotDescribed(channel + 1));
            return;
        }

        double load = LineLoad.ChannelBytesPerSecond(rate, head.Divider);
        if (_loadBytesPerSecond + load > carried * LineLoad.ShareMax)
        {
            Say(RigText.ChannelTooMuchForLine(head.Name, load, _loadBytesPerSecond, carried));
            return;
        }

        _loadBytesPerSecond += load;
        link.Session?.Channel(channel, on: true, again =>
        {
            if (again is null) return;
            _channels.Add(again);
            loop.Log.LogInformation("Channel {Channel}: {Name}, {Kind} in {Unit}.", channel, again.Name, again.Kind, again.Unit);
            loop.PublishSoon();
        });
    }

    private void Say(Sentence words)
    {
        _words.Add(words);
        loop.Log.LogWarning("{Words}", words);
        loop.PublishSoon();
    }
}
