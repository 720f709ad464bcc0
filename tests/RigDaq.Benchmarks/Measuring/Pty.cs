using System.Runtime.InteropServices;

namespace RigDaq.Benchmarks.Measuring;

/// <summary>A pseudo-terminal whose master waits in its reads: what comes is seen when it comes, not at the next look. Linux.</summary>
internal sealed partial class Pty : IDisposable
{
    private const int ReadWrite = 2, NoControllingTerminal = 0x100, CloseOnExec = 0x8_0000;
    private const int TermiosBytes = 256;
    private readonly int _master;

    // Kept open, so that a read of the master waits instead of failing while nobody has the other end.
    private readonly int _slave;

    public Pty()
    {
        _master = open("/dev/ptmx", ReadWrite | NoControllingTerminal | CloseOnExec);
        if (_master < 0 || grantpt(_master) != 0 || unlockpt(_master) != 0) throw new IOException("No pseudo-terminal is to be had.");
        Path = Marshal.PtrToStringUTF8(ptsname(_master))!;
        _slave = open(Path, ReadWrite | NoControllingTerminal | CloseOnExec);
        byte[] settings = new byte[TermiosBytes];
        if (tcgetattr(_slave, settings) != 0) throw new IOException("The terminal's settings cannot be read.");
        cfmakeraw(settings);
        if (tcsetattr(_slave, 0, settings) != 0) throw new IOException("The terminal cannot be set raw.");
    }

    /// <summary>What a host opens.</summary>
    public string Path { get; }

    /// <summary>Waits for bytes; 0 at the end.</summary>
    public int Read(byte[] buffer) => (int)Math.Max(0, read(_master, buffer, buffer.Length));

    /// <summary>Hands bytes to the kernel; waits where the other end does not take them.</summary>
    public void Write(byte[] bytes, int count) => _ = write(_master, bytes, count);

    /// <inheritdoc/>
    public void Dispose()
    {
        _ = close(_slave);
        _ = close(_master);
    }

    [LibraryImport("libc", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int open(string path, int flags);

    [LibraryImport("libc")]
    private static partial int close(int descriptor);

    [LibraryImport("libc")]
    private static partial nint read(int descriptor, [Out] byte[] buffer, nint count);

    [LibraryImport("libc")]
    private static partial nint write(int descriptor, byte[] buffer, nint count);

    [LibraryImport("libc")]
    private static partial int grantpt(int descriptor);

    [LibraryImport("libc")]
    private static partial int unlockpt(int descriptor);

    [LibraryImport("libc")]
    private static partial nint ptsname(int descriptor);

    [LibraryImport("libc")]
    private static partial int tcgetattr(int descriptor, [In, Out] byte[] settings);

    [LibraryImport("libc")]
    private static partial int tcsetattr(int descriptor, int when, byte[] settings);

    [LibraryImport("libc")]
    private static partial void cfmakeraw([In, Out] byte[] settings);
}
