namespace RigDaq.Rig.Links;

/// <summary>The bounds of a link's waits, in wall time.</summary>
public static class LinkTimes
{
    /// <summary>A write that takes longer ends the link.</summary>
    public static readonly TimeSpan WriteMax = TimeSpan.FromSeconds(1);

    /// <summary>While the device moves, or may, a link without a whole frame for so long is ended (PROTOCOL.md, 17). A device tells its
    /// state every 100 ms at least.</summary>
    public static readonly TimeSpan NoFrameMax = TimeSpan.FromMilliseconds(500);

    /// <summary>How long the reader may take to go away when a link is disposed.</summary>
    public static readonly TimeSpan DisposeMax = TimeSpan.FromSeconds(2);

    /// <summary>The first wait before a link is opened again; it doubles with every failure.</summary>
    public static readonly TimeSpan ReopenFirst = TimeSpan.FromMilliseconds(250);

    /// <summary>The longest wait before a link is opened again.</summary>
    public static readonly TimeSpan ReopenMax = TimeSpan.FromSeconds(5);
}
