using System.Runtime.InteropServices;
using System.Text;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Storage;

/// <summary>
/// Writes journal and captures, and makes the operating system put what was written on the disk. Every promise that something
/// "survives a power cut" rests on a call to here, so that a test can see exactly what was promised, and fail at any of it.
/// </summary>
internal class DiskSync
{
    /// <summary>Some more bytes at the end of a file. Where it throws, any part of them may be there.</summary>
    public virtual void Write(FileStream file, ReadOnlySpan<byte> bytes) => file.Write(bytes);

    /// <summary>Takes what a write has left of itself off the end of a file again.</summary>
    public virtual void Cut(FileStream file, long length)
    {
        file.SetLength(length);
        file.Position = length;
    }

    /// <summary>The contents of an open file.</summary>
    public virtual void File(FileStream file) => file.Flush(flushToDisk: true);

    /// <summary>The contents of a file that someone else has open: flushing any handle of a file flushes the file.</summary>
    public virtual void File(string path)
    {
        using var handle = System.IO.File.OpenHandle(path, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite | FileShare.Delete);
        RandomAccess.FlushToDisk(handle);
    }

    /// <summary>The names in a folder: without this a new file can be gone after a power cut although its contents were flushed.</summary>
    public virtual void Folder(string path)
    {
        // Windows keeps names in its own journal and has no such call.
        if (OperatingSystem.IsWindows()) return;
        int descriptor = Open(Encoding.UTF8.GetBytes(path + '\0'), 0);
        if (descriptor < 0) throw new IOException(ArchiveText.FolderNotOpened(path, Marshal.GetLastPInvokeError()));
        int result = Fsync(descriptor);
        int error = Marshal.GetLastPInvokeError();
        _ = Close(descriptor);
        // Some file systems cannot flush a folder and say so with EINVAL (22); they have nothing to flush.
        if (result != 0 && error != 22) throw new IOException(ArchiveText.FolderNotFlushed(path, error));
    }

    [DllImport("libc", EntryPoint = "open", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Open(byte[] path, int flags);

    [DllImport("libc", EntryPoint = "fsync", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Fsync(int descriptor);

    [DllImport("libc", EntryPoint = "close", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Close(int descriptor);
}
