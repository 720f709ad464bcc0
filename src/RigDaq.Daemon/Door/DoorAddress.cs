using System.Security.Cryptography;
using System.Text;
using RigDaq.Archive.Storage;

namespace RigDaq.Daemon.Door;

/// <summary>
/// Where a daemon takes the commands of its own machine: a socket in a folder that only its user may enter, or, on Windows, a pipe that
/// only its user may open. A command finds it by the data folder alone.
/// </summary>
internal static class DoorAddress
{
    /// <summary>The longest path that a socket can have, in bytes: macOS has room for 104 with the zero at the end, Linux for
    /// 108.</summary>
    private const int PathBytesMax = 103;

    /// <summary>As much of a folder's digest as tells it from others, in hexadecimal places.</summary>
    private const int DigestPlaces = 16;

    private const string Folder = "door";
    private const string Socket = "rigdaq.sock";

    /// <summary>The pipe's name on Windows.</summary>
    public static string PipeName(string dataFolder) => "rigdaq-" + Digest(dataFolder);

    /// <summary>The places where a socket may be: in the data folder, or, where that lies too deep for one, in the folder that the system
    /// gives this user for such things (XDG Base Directory Specification, XDG_RUNTIME_DIR).</summary>
    public static IEnumerable<string> SocketPaths(string dataFolder)
    {
        string? own = Environment.GetEnvironmentVariable("XDG_RUNTIME_DIR");
        string[] paths =
        [
            Path.Combine(Path.GetFullPath(dataFolder), Folder, Socket),
            .. string.IsNullOrEmpty(own) ? Array.Empty<string>() : [Path.Combine(own, "rigdaq", Digest(dataFolder), Socket)],
        ];
        return paths.Where(path => Encoding.UTF8.GetByteCount(path) <= PathBytesMax);
    }

    /// <summary>Makes the folder of a socket, its owner's alone, and takes away what a process that was killed has left there. Only whoever
    /// holds the data folder's lock may call it.</summary>
    /// <exception cref="IOException">It cannot be made.</exception>
    public static void MakeWay(string socketPath)
    {
        OwnersFile.MakeFolder(Path.GetDirectoryName(socketPath)!);
        File.Delete(socketPath);
    }

    private static string Digest(string dataFolder) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Path.GetFullPath(dataFolder))))[..DigestPlaces];
}
