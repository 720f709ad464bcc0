using System.Runtime.InteropServices;

namespace RigDaq.Rig.Links;

/// <summary>What a line is ready for.</summary>
[Flags]
internal enum LineState
{
    Nothing = 0,

    /// <summary>Something can be read, or the end of it.</summary>
    HasBytes = 1,

    /// <summary>The driver takes bytes.</summary>
    HasRoom = 2,
}

/// <summary>The calls of Linux that a serial line by a descriptor of its own needs; flags as on x64 and arm64.</summary>
internal static partial class UnixCalls
{
    private const int OpenFlags = 0x2 | 0x100 | 0x800 | 0x8_0000; // O_RDWR, O_NOCTTY (never our terminal), O_NONBLOCK, O_CLOEXEC
    private const int WakeFlags = 0x800 | 0x8_0000; // EFD_NONBLOCK, EFD_CLOEXEC
    private const short PollIn = 0x1;
    private const short PollOut = 0x4;
    private const short PollEnd = 0x8 | 0x10 | 0x20; // error, hang-up, invalid
    private const int Interrupted = 4;
    private const int TryAgain = 11;

    /// <summary>What the last call failed with, in words.</summary>
    public static string LastFault => Marshal.GetPInvokeErrorMessage(Marshal.GetLastPInvokeError());

    /// <summary>Opens a terminal for both ways, without waiting; negative where it cannot.</summary>
    public static int OpenTerminal(string path) => open(path, OpenFlags);

    /// <summary>A descriptor that ends a wait.</summary>
    public static int NewWake()
    {
        int wake = eventfd(0, WakeFlags);
        return wake >= 0 ? wake : throw new IOException(LastFault);
    }

    /// <summary>Ends the wait.</summary>
    public static void Wake(int wake)
    {
        Span<byte> one = stackalloc byte[8];
        one[0] = 1;
        _ = write(wake, ref MemoryMarshal.GetReference(one), 8);
    }

    /// <summary>How many bytes the driver took; 0 where it has no room now, negative where it failed.</summary>
    public static int Write(int descriptor, ReadOnlySpan<byte> bytes)
    {
        if (bytes.IsEmpty) return 0;
        while (true)
        {
            int written = (int)write(descriptor, ref MemoryMarshal.GetReference(bytes), bytes.Length);
            if (written >= 0) return written;
            int fault = Marshal.GetLastPInvokeError();
            if (fault == TryAgain) return 0;
            if (fault != Interrupted) return -1;
        }
    }

    /// <summary>How many bytes were read; 0 at the end, negative where it failed or there is nothing now.</summary>
    public static int Read(int descriptor, Span<byte> bytes) => (int)read(descriptor, ref MemoryMarshal.GetReference(bytes), bytes.Length);

    /// <summary>Whether a read only found nothing.</summary>
    public static bool MustTryAgain(int read) => read < 0 && Marshal.GetLastPInvokeError() is TryAgain or Interrupted;

    /// <summary>Waits until the line is ready, somebody wakes it, or the time is up (negative: for ever).</summary>
    public static LineState Wait(int descriptor, int wake, int milliseconds, bool wantsRoom)
    {
        Span<PollEntry> entries = stackalloc PollEntry[2];
        entries[0] = new PollEntry { Descriptor = descriptor, Wanted = (short)(PollIn | (wantsRoom ? PollOut : 0)) };
        entries[1] = new PollEntry { Descriptor = wake, Wanted = PollIn };
        if (poll(ref MemoryMarshal.GetReference(entries), 2, milliseconds) < 0) return LineState.Nothing;
        if ((entries[1].Seen & PollIn) != 0)
        {
            Span<byte> woken = stackalloc byte[8];
            _ = read(wake, ref MemoryMarshal.GetReference(woken), 8);
        }

        short seen = entries[0].Seen;
        return ((seen & (PollIn | PollEnd)) != 0 ? LineState.HasBytes : 0) | ((seen & PollOut) != 0 ? LineState.HasRoom : 0);
    }

    /// <summary>Closes a descriptor.</summary>
    public static void Close(int descriptor) => _ = close(descriptor);

    [LibraryImport("libc", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int open(string path, int flags);

    [LibraryImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int eventfd(uint value, int flags);

    [LibraryImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial nint write(int descriptor, ref byte bytes, nint count);

    [LibraryImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial nint read(int descriptor, ref byte bytes, nint count);

    [LibraryImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int poll(ref PollEntry entries, nuint count, int milliseconds);

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int close(int descriptor);

    [StructLayout(LayoutKind.Sequential)]
    private struct PollEntry
    {
        public int Descriptor;
        public short Wanted;
        public short Seen;
    }
}
