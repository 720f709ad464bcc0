using RigDaq.Archive.Storage;

namespace RigDaq.App.Access;

/// <summary>Who may come in from elsewhere, as files of the data folder: their owner's alone, and no part of a backup.</summary>
internal static class AccessFolder
{
    /// <summary>No file of it is longer; a longer one is not ours.</summary>
    public const int BytesMax = 64 * 1024;

    /// <summary>Where it is.</summary>
    public static string Of(string dataFolder) => Path.Combine(dataFolder, "access");

    /// <summary>What a file holds; null where there is none, or one that is too long to be ours.</summary>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static byte[]? Read(string path)
    {
        var file = new FileInfo(path);
        return file.Exists && file.Length <= BytesMax ? File.ReadAllBytes(path) : null;
    }

    /// <summary>Writes a file whole or not at all.</summary>
    /// <exception cref="IOException">It cannot be kept.</exception>
    public static void Write(string path, ReadOnlySpan<byte> bytes)
    {
        OwnersFile.MakeFolder(Path.GetDirectoryName(path)!);
        string draft = path + ".draft";
        using (FileStream stream = OwnersFile.Open(draft, FileMode.Create))
        {
            stream.Write(bytes);
            stream.Flush(flushToDisk: true);
        }

        File.Move(draft, path, overwrite: true);
    }
}
