namespace RigDaq.Archive.Storage;

/// <summary>
/// Files and folders that are their owner's alone (modes 600 and 700 where a system has such): what is kept is nobody else's to read,
/// whatever the umask says and even where the folder around it was opened to others.
/// </summary>
public static class OwnersFile
{
    private const UnixFileMode ReadAndWrite = UnixFileMode.UserRead | UnixFileMode.UserWrite;
    private const UnixFileMode All = ReadAndWrite | UnixFileMode.UserExecute;

    /// <summary>Opens a file to write; one that is made is its owner's alone, one that is there keeps its rights.</summary>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static FileStream Open(
        string path, FileMode mode, FileAccess access = FileAccess.Write, FileShare share = FileShare.None, int bufferSize = 4096)
    {
        var options = new FileStreamOptions { Mode = mode, Access = access, Share = share, BufferSize = bufferSize };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = ReadAndWrite;
        return new FileStream(path, options);
    }

    /// <summary>Makes a folder, and those above it, where they are not there.</summary>
    /// <exception cref="IOException">It cannot be made.</exception>
    public static void MakeFolder(string path)
    {
        if (Directory.Exists(path)) return;
        if (OperatingSystem.IsWindows()) Directory.CreateDirectory(path);
        else Directory.CreateDirectory(path, All);
    }

    /// <summary>Takes a file that another library made from all but its owner.</summary>
    public static void Close(string path)
    {
        if (!OperatingSystem.IsWindows() && File.Exists(path) && IsOpenToOthers(path)) File.SetUnixFileMode(path, ReadAndWrite);
    }

    /// <summary>Whether anybody else may do anything with a file or folder.</summary>
    internal static bool IsOpenToOthers(string path) => !OperatingSystem.IsWindows() && (File.GetUnixFileMode(path) & ~All) != 0;
}
