using Microsoft.Extensions.Logging;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>What the line can carry, and the channels besides the force. Nothing is decided by a channel.</content>
internal sealed partial class ControlLoop
{
    private readonly List<ChannelHead> _channels = [];
    private readonly double?[] _channelNow = new double?[ChannelHead.ChannelsMax];
    private readonly PreRoll<ChannelSample>[] _preRollChannels =
        [.. Enumerable.Range(0, ChannelHead.ChannelsMax).Select(_ => new PreRoll<ChannelSample>())];
    private readonly List<string> _lineWords = [];
    private double _loadBytesPerSecond;

    /// <summary>What the line carries in a second: as the device says, else as the link's rate says; null where nothing bounds it.</summary>
    private double? Carried(HelloMessage hello) => hello.LineBytesPerSecond switch
    {
        HelloMessage.LineUnbound => null,
        0 => _pump?.Link.BytesPerSecond,
        uint bytes => bytes,
    };

    /// <summary>Starts the stream, at the wanted rate where device and line bear it (PROTOCOL.md, 13), and asks for the channels.</summary>
    private void StartStream(HelloMessage hello)
    {
        _channels.Clear();
        _lineWords.Clear();
        Array.Clear(_channelNow);
        foreach (PreRoll<ChannelSample> kept in _preRollChannels) kept.Clear();
        double own = hello.ConverterRateMillihertz / 1000.0, rate = own;
        // Where nothing bounds it nothing is too much.
        double carried = Carried(hello) ?? double.PositiveInfinity;
        uint asked = 0;
        if (_options.SampleRateHertz is { } wanted && hello.Capabilities.HasFlag(Capabilities.RateSelectable))
        {
            if (LineLoad.SamplesBytesPerSecond(wanted) > carried) Say(RigText.RateTooMuchForLine(wanted, LineLoad.SamplesBytesPerSecond(wanted), carried, own));
            else (asked, rate) = ((uint)Math.Round(wanted * 1000), wanted);
        }

        _loadBytesPerSecond = LineLoad.SamplesBytesPerSecond(rate);
        if (_loadBytesPerSecond > carried * LineLoad.ShareMax) Say(RigText.LineNearlyFull(rate, _loadBytesPerSecond, carried));
        _session?.Stream(on: true, asked, outcome =>
        {
            if (!outcome.Done) _log.LogWarning("The device does not start its stream of samples: {Why}.", outcome.Words);
        });
        if (!hello.Capabilities.HasFlag(Capabilities.Channels)) return;
        for (int i = 0; i < hello.Channels; i++)
        {
            int channel = i;
            // Described first, switched on when its share of the line is known.
            _session?.Channel(channel, on: false, head => SwitchOn(channel, head, rate, carried));
        }
    }

    private void SwitchOn(int channel, ChannelHead? head, double rate, double carried)
    {
        if (head is null)
        {
            Say(RigText.ChannelNotDescribed(channel));
            return;
        }

        double load = LineLoad.ChannelBytesPerSecond(rate, head.Divider);
        if (_loadBytesPerSecond + load > carried * LineLoad.ShareMax)
        {
            Say(RigText.ChannelTooMuchForLine(head.Name, load, _loadBytesPerSecond, carried));
            return;
        }

        _loadBytesPerSecond += load;
        _session?.Channel(channel, on: true, again =>
        {
            if (again is null) return;
            _channels.Add(again);
            _log.LogInformation("Channel {Channel}: {Name}, {Kind} in {Unit}.", channel, again.Name, again.Kind, again.Unit);
            ShowNow();
        });
    }

    private void Say(string words)
    {
        _lineWords.Add(words);
        _log.LogWarning("{Words}", words);
        ShowNow();
    }

    /// <inheritdoc/>
    public void ChannelArrived(ChannelHead head, ReadOnlySpan<ChannelSample> values)
    {
        _channelNow[head.Index] = head.Value(values[^1].Raw);
        if (_pull is { Record: null, IsOpen: true } pull)
        {
            // One that was switched on after the pull's head was written is not of this pull.
            if (pull.Channels[head.Index] is not { } kept) return;
            kept.AddRange(values);
            if (!pull.Capture.TryAppend(head.Index, values)) Happen(new Sequencing.CaptureLost(pull.Head.RunId, RigText.DiskTooSlow));
            return;
        }

        if (!_preRollWanted) return;
        _preRollChannels[head.Index].Add(values);
    }

    /// <summary>The pull's capture is open: what came since the first sample of its pre-roll belongs to it.</summary>
    private void TakePreRollOfChannels(OpenRecord pull)
    {
        long? first = _preRoll.Kept is [var sample, ..] ? sample.Number : null;
        for (int i = 0; i < _preRollChannels.Length; i++)
        {
            if (first is { } number && pull.Channels[i] is { } kept)
            {
                foreach (ChannelSample value in _preRollChannels[i].Kept)
                {
                    if (value.Number >= number) kept.Add(value);
                }

                pull.Capture.TryAppend(i, System.Runtime.InteropServices.CollectionsMarshal.AsSpan(kept));
            }

            _preRollChannels[i].Clear();
        }
    }

    private ChannelNow[] ChannelsNow() => [.. _channels.OrderBy(head => head.Index).Select(head => new ChannelNow(head, _channelNow[head.Index]))];
}
