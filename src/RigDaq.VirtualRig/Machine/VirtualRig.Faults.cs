using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Lines;

namespace RigDaq.Virtual.Machine;

/// <content>What goes wrong on demand.</content>
public sealed partial class VirtualRig
{
    private const int GarbageBytesMax = 1_000_000;
    private static readonly TimeSpan TryAgainAfter = TimeSpan.FromMilliseconds(100);

    /// <summary>Lets something go wrong now.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A figure of the fault is outside its range.</exception>
    public void Inject(VirtualFault fault)
    {
        ArgumentNullException.ThrowIfNull(fault);
        lock (_gate) Begin(fault);
    }

    private void Begin(VirtualFault fault)
    {
        double now = _device.Physics.RigSeconds;
        switch (fault)
        {
            case VirtualFault.Spikes spikes:
                ArgumentOutOfRangeException.ThrowIfNegative(spikes.Count);
                ArgumentOutOfRangeException.ThrowIfLessThan(spikes.SpacingSamples, 1);
                _device.Converter.Spike(spikes.Count, spikes.Counts, spikes.SpacingSamples);
                break;
            case VirtualFault.StuckConverter stuck:
                _device.Converter.Stick(now + stuck.Duration.TotalSeconds);
                break;
            case VirtualFault.SilentConverter silent:
                _device.Converter.Silence(now + silent.Duration.TotalSeconds);
                break;
            case VirtualFault.ConverterAtEnd end:
                _device.Converter.PinToEnd(now + end.Duration.TotalSeconds);
                break;
            case VirtualFault.DataLineLow low:
                _device.Converter.HoldLow(now + low.Duration.TotalSeconds);
                break;
            case VirtualFault.StarvedConverter starved:
                ArgumentOutOfRangeException.ThrowIfLessThan(starved.Every, 2);
                _device.Converter.Starve(starved.Every, now + starved.Duration.TotalSeconds);
                break;
            case VirtualFault.LostBytes lost:
                if (!(lost.Probability is >= 0 and <= 1)) throw new ArgumentOutOfRangeException(nameof(fault), "A probability is 0 to 1.");
                _device.Line.LoseBytes(lost.Probability, _wallNow + lost.Duration);
                break;
            case VirtualFault.Garbage garbage:
                ArgumentOutOfRangeException.ThrowIfNegative(garbage.Bytes);
                ArgumentOutOfRangeException.ThrowIfGreaterThan(garbage.Bytes, GarbageBytesMax);
                _device.Line.AddGarbage(garbage.Bytes);
                break;
            case VirtualFault.LostBlocks blocks:
                ArgumentOutOfRangeException.ThrowIfNegative(blocks.Blocks);
                _device.Line.LoseBlocks(blocks.Blocks);
                break;
            case VirtualFault.LostAnswers answers:
                ArgumentOutOfRangeException.ThrowIfNegative(answers.Answers);
                _device.Line.LoseAnswers(answers.Answers);
                break;
            case VirtualFault.LostCommands commands:
                ArgumentOutOfRangeException.ThrowIfNegative(commands.Frames);
                _device.Line.LoseFromHost(commands.Frames);
                break;
            case VirtualFault.SilentLine silence:
                _device.Line.Silence(_wallNow + silence.Duration);
                break;
            case VirtualFault.Unplug unplug:
                PullCable(unplug);
                break;
            case VirtualFault.Slip slip:
                ArgumentOutOfRangeException.ThrowIfNegative(slip.Millimetres);
                _device.Physics.Slide(slip.Millimetres);
                break;
            case VirtualFault.Driver driver:
                _device.Context.DriverFaulty = driver.Present;
                break;
            case VirtualFault.WatchdogRestart:
                _device.Start(DeviceFaults.Watchdog);
                break;
            default:
                throw new ArgumentException($"{fault.GetType().Name} is no known fault.", nameof(fault));
        }
    }

    private void PullCable(VirtualFault.Unplug unplug)
    {
        if (_line is PipeLine pipe) pipe.EndWith(new IOException("The virtual rig's cable was pulled."));
        Func<IDeviceLine>? again = _plugAgain;
        Replace(null, again);
        _pluggedAgainAt = _wallNow + unplug.Duration;
        if (unplug.Restarts) _device.Start(DeviceFaults.None);
    }

    private void PlugAgainWhenDue()
    {
        if (_wallNow < _pluggedAgainAt || _pluggedAgainAt is null) return;
        _pluggedAgainAt = null;
        try
        {
            if (_plugAgain is { } again) _line = again();
        }
        catch (IOException)
        {
            // The system has no pseudo-terminal left just now, or the link's name is taken: the rig lives on without a cable.
            _pluggedAgainAt = _wallNow + TryAgainAfter;
        }
    }
}
