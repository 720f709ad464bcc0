namespace RigDaq.Virtual.Lines;

/// <summary>A line through the kernel: a pseudo-terminal, whose slave any serial library opens like a port. Linux and macOS.</summary>
internal sealed class PtyLine : IDeviceLine
{
    private readonly string? _link;
    private int _master;

    /// <summary>Opens one.</summary>
    /// <param name="link">A path that is made a symbolic link to the slave, so that it keeps its name when it is plugged in again.</param>
    public PtyLine(string? link)
    {
        _link = link;
        (_master, SlavePath) = PtyCalls.OpenRaw();
        if (link is null) return;
        try
        {
            RemoveLink();
            File.CreateSymbolicLink(link, SlavePath);
        }
        catch
        {
            PtyCalls.Close(_master);
            throw;
        }
    }

    /// <summary>The slave's own path.</summary>
    public string SlavePath { get; }

    /// <summary>What a host opens.</summary>
    public string Path => _link ?? SlavePath;

    // Nobody has the slave open while poll says hang-up: bytes then go nowhere, as on a wire.
    public bool IsConnected => _master >= 0 && !PtyCalls.Look(_master).HasFlag(PtyCalls.Readiness.HungUp);

    public int Read(Span<byte> buffer) =>
        _master >= 0 && PtyCalls.Look(_master).HasFlag(PtyCalls.Readiness.Readable) ? PtyCalls.Read(_master, buffer) : 0;

    public int Write(ReadOnlySpan<byte> bytes) =>
        _master >= 0 && PtyCalls.Look(_master).HasFlag(PtyCalls.Readiness.Writable) ? PtyCalls.Write(_master, bytes) : 0;

    public void Dispose()
    {
        if (_master < 0) return;
        PtyCalls.Close(_master);
        _master = -1;
        if (_link is not null) RemoveLink();
    }

    // Only a link is ever removed: a file of that name is somebody's.
    private void RemoveLink()
    {
        if (new FileInfo(_link!).LinkTarget is not null) File.Delete(_link!);
    }
}
