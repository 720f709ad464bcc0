namespace RigDaq.Virtual;

/// <summary>Something that goes wrong on demand. Hand one to <see cref="Machine.VirtualRig.Inject"/>.</summary>
public abstract record VirtualFault
{
    private VirtualFault()
    {
    }

    /// <summary>Single wild conversions, up and down in turn.</summary>
    /// <param name="Count">How many.</param>
    /// <param name="Counts">How far off, in counts.</param>
    /// <param name="SpacingSamples">One in so many conversions, 1 or more.</param>
    public sealed record Spikes(int Count, int Counts, int SpacingSamples = 50) : VirtualFault;

    /// <summary>The converter delivers the same count again and again.</summary>
    /// <param name="Duration">For how long, in rig time.</param>
    public sealed record StuckConverter(TimeSpan Duration) : VirtualFault;

    /// <summary>The converter delivers nothing.</summary>
    /// <param name="Duration">For how long, in rig time.</param>
    public sealed record SilentConverter(TimeSpan Duration) : VirtualFault;

    /// <summary>The converter stands at the end of its range, as with a torn wire of the cell.</summary>
    /// <param name="Duration">For how long, in rig time.</param>
    public sealed record ConverterAtEnd(TimeSpan Duration) : VirtualFault;

    /// <summary>The converter's data line sits low: a stream of good zeros, many times as often as conversions come.</summary>
    /// <param name="Duration">For how long, in rig time.</param>
    public sealed record DataLineLow(TimeSpan Duration) : VirtualFault;

    /// <summary>Some conversions never come: each one after such a gap is late.</summary>
    /// <param name="Every">One in so many, 2 or more.</param>
    /// <param name="Duration">For how long, in rig time.</param>
    public sealed record StarvedConverter(int Every, TimeSpan Duration) : VirtualFault;

    /// <summary>Bytes to the host get lost.</summary>
    /// <param name="Probability">Of each byte, 0 to 1.</param>
    /// <param name="Duration">For how long, in wall time.</param>
    public sealed record LostBytes(double Probability, TimeSpan Duration) : VirtualFault;

    /// <summary>Random bytes to the host, between two frames.</summary>
    /// <param name="Bytes">How many, at most 1,000,000.</param>
    public sealed record Garbage(int Bytes) : VirtualFault;

    /// <summary>Whole blocks of samples get lost.</summary>
    /// <param name="Blocks">How many.</param>
    public sealed record LostBlocks(int Blocks) : VirtualFault;

    /// <summary>Answers get lost on their way to the host, which then has to ask again.</summary>
    /// <param name="Answers">How many.</param>
    public sealed record LostAnswers(int Answers) : VirtualFault;

    /// <summary>Whole messages from the host get lost, keep-alives and acknowledgements among them.</summary>
    /// <param name="Frames">How many.</param>
    public sealed record LostCommands(int Frames) : VirtualFault;

    /// <summary>Nothing comes from the device, though the line is up: a firmware that hangs, a loose contact.</summary>
    /// <param name="Duration">For how long, in wall time. The device goes on meanwhile and what it said is lost.</param>
    public sealed record SilentLine(TimeSpan Duration) : VirtualFault;

    /// <summary>The cable is pulled and plugged in again.</summary>
    /// <param name="Duration">After how long it is plugged in again, in wall time.</param>
    /// <param name="Restarts">Whether the device restarts with it, as one does that is powered over the cable.</param>
    public sealed record Unplug(TimeSpan Duration, bool Restarts = false) : VirtualFault;

    /// <summary>What is held slides through its grip at once, and holds again.</summary>
    /// <param name="Millimetres">How far.</param>
    public sealed record Slip(double Millimetres) : VirtualFault;

    /// <summary>The motor's driver reports a fault.</summary>
    /// <param name="Present">Whether it does from now on.</param>
    public sealed record Driver(bool Present = true) : VirtualFault;

    /// <summary>The firmware hangs and its watchdog restarts it.</summary>
    public sealed record WatchdogRestart : VirtualFault;
}
