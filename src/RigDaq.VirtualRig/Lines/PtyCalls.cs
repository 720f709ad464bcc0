using System.ComponentModel;
using System.Runtime.InteropServices;

namespace RigDaq.Virtual.Lines;

/// <summary>
/// The few calls of the C library that a pseudo-terminal takes, on Linux and macOS. None of them is called with a variable argument, whose
/// passing differs on some processors; a terminal's settings are passed as an opaque buffer, whose layout differs between the systems.
/// </summary>
internal static unsafe partial class PtyCalls
{
    /// <summary>Larger than a termios of any system.</summary>
    private const int TermiosBytes = 256;

    private const int ReadWrite = 2;
    private const short PollIn = 0x01;
    private const short PollOut = 0x04;
    private const short PollHangUp = 0x10;

    private static readonly bool IsMac = OperatingSystem.IsMacOS();
    private static readonly int NoControllingTerminal = IsMac ? 0x20000 : 0x100;
    private static readonly int NonBlocking = IsMac ? 0x4 : 0x800;
    private static readonly int CloseOnExec = IsMac ? 0x1000000 : 0x80000;
    private static readonly Lock NameGate = new();

    /// <summary>What poll says of the master.</summary>
    [Flags]
    public enum Readiness
    {
        /// <summary>Nothing.</summary>
        None = 0,

        /// <summary>Bytes wait.</summary>
        Readable = 1,

        /// <summary>There is room.</summary>
        Writable = 2,

        /// <summary>No client has the slave open.</summary>
        HungUp = 4,
    }

    /// <summary>Opens a master that never blocks, with a slave that passes every byte as it is.</summary>
    /// <returns>The master's descriptor and the slave's path.</returns>
    /// <exception cref="IOException">The system has no more of them, or refuses.</exception>
    public static (int Master, string SlavePath) OpenRaw()
    {
        int master = Open("/dev/ptmx", ReadWrite | NoControllingTerminal | NonBlocking | CloseOnExec);
        if (master < 0) throw Failure("open a pseudo-terminal");
        try
        {
            if (GrantSlave(master) != 0 || UnlockSlave(master) != 0) throw Failure("unlock a pseudo-terminal");
            string path;
            // The C library keeps the name in one static buffer.
            lock (NameGate) path = Marshal.PtrToStringUTF8(SlaveName(master)) ?? throw Failure("name a pseudo-terminal");
            MakeRaw(path);
            return (master, path);
        }
        catch
        {
            CloseDescriptor(master);
            throw;
        }
    }

    /// <summary>Looks at a descriptor without waiting.</summary>
    public static Readiness Look(int descriptor)
    {
        var poll = new PollDescriptor { Descriptor = descriptor, Events = PollIn | PollOut };
        if (Poll(&poll, 1, 0) <= 0) return Readiness.None;
        return ((poll.Returned & PollIn) != 0 ? Readiness.Readable : 0) | ((poll.Returned & PollOut) != 0 ? Readiness.Writable
            : 0) | ((poll.Returned & PollHangUp) != 0 ? Readiness.HungUp : 0);
    }

    /// <summary>Reads what is there; 0 where there is nothing or nobody.</summary>
    public static int Read(int descriptor, Span<byte> buffer)
    {
        fixed (byte* start = buffer) return (int)Math.Max(0, ReadBytes(descriptor, start, (nuint)buffer.Length));
    }

    /// <summary>Writes what fits; 0 where nothing does.</summary>
    public static int Write(int descriptor, ReadOnlySpan<byte> bytes)
    {
        fixed (byte* start = bytes) return (int)Math.Max(0, WriteBytes(descriptor, start, (nuint)bytes.Length));
    }

    /// <summary>Closes a descriptor; for a master this hangs its client up.</summary>
    public static void Close(int descriptor) => _ = CloseDescriptor(descriptor);

    // Settings outlive the descriptor they were made with; closing it lets poll tell whether a client is there.
    private static void MakeRaw(string path)
    {
        int slave = Open(path, ReadWrite | NoControllingTerminal | CloseOnExec);
        if (slave < 0) throw Failure($"open {path}");
        byte* settings = stackalloc byte[TermiosBytes];
        bool done = GetSettings(slave, settings) == 0;
        if (done)
        {
            MakeSettingsRaw(settings);
            done = SetSettings(slave, 0, settings) == 0;
        }

        Exception? failure = done ? null : Failure($"set {path} raw");
        CloseDescriptor(slave);
        if (failure is not null) throw failure;
    }

    private static IOException Failure(string what)
    {
        var cause = new Win32Exception(Marshal.GetLastPInvokeError());
        return new IOException($"The virtual rig could not {what}: {cause.Message}.", cause);
    }

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "close", SetLastError = true)]
    private static partial int CloseDescriptor(int descriptor);

    [LibraryImport("libc", EntryPoint = "read", SetLastError = true)]
    private static partial nint ReadBytes(int descriptor, byte* buffer, nuint length);

    [LibraryImport("libc", EntryPoint = "write", SetLastError = true)]
    private static partial nint WriteBytes(int descriptor, byte* buffer, nuint length);

    [LibraryImport("libc", EntryPoint = "poll", SetLastError = true)]
    private static partial int Poll(PollDescriptor* descriptors, nuint count, int timeoutMilliseconds);

    [LibraryImport("libc", EntryPoint = "grantpt", SetLastError = true)]
    private static partial int GrantSlave(int master);

    [LibraryImport("libc", EntryPoint = "unlockpt", SetLastError = true)]
    private static partial int UnlockSlave(int master);

    [LibraryImport("libc", EntryPoint = "ptsname", SetLastError = true)]
    private static partial nint SlaveName(int master);

    [LibraryImport("libc", EntryPoint = "tcgetattr", SetLastError = true)]
    private static partial int GetSettings(int descriptor, byte* settings);

    [LibraryImport("libc", EntryPoint = "tcsetattr", SetLastError = true)]
    private static partial int SetSettings(int descriptor, int when, byte* settings);

    [LibraryImport("libc", EntryPoint = "cfmakeraw")]
    private static partial void MakeSettingsRaw(byte* settings);

    [StructLayout(LayoutKind.Sequential)]
    private struct PollDescriptor
    {
        public int Descriptor;
        public short Events;
        public short Returned;
    }
}
