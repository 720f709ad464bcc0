using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary>Photos of broken pieces, kept in the data folder beside the runs that they belong to.</summary>
internal static class StudyPhotos
{
    /// <summary>The largest photo, in bytes.</summary>
    public const long BytesMax = 10 << 20;

    /// <summary>Where they are, below the data folder.</summary>
    private const string Folder = "photos";

    private static readonly string TooLarge = $"larger than {BytesMax >> 20} MB; make it smaller.";

    private static readonly (string Extension, byte[] Start)[] Kinds = [(".jpg", [0xFF, 0xD8, 0xFF]), (".png", [0x89, 0x50, 0x4E, 0x47])];

    /// <summary>Copies a photo into the data folder, on the disk when this returns.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="runId">The run.</param>
    /// <param name="revision">The revision that names it: an earlier photo stays.</param>
    /// <param name="file">The photo.</param>
    /// <returns>The name under which it is kept.</returns>
    /// <exception cref="InputException">It is missing, too large or no JPEG or PNG.</exception>
    public static string Keep(string folder, string runId, int revision, string file)
    {
        if (!File.Exists(file)) throw InputException.In(file, "there is no such file.");
        if (new FileInfo(file).Length > BytesMax) throw InputException.In(file, TooLarge);
        return Keep(folder, runId, revision, File.ReadAllBytes(file), file);
    }

    /// <summary>Keeps a photo in the data folder, on the disk when this returns.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="runId">The run.</param>
    /// <param name="revision">The revision that names it: an earlier photo stays.</param>
    /// <param name="photo">Its bytes.</param>
    /// <param name="name">What the person calls it, for the message.</param>
    /// <returns>The name under which it is kept.</returns>
    /// <exception cref="InputException">It is too large or no JPEG or PNG.</exception>
    public static string Keep(string folder, string runId, int revision, byte[] photo, string name)
    {
        if (photo.Length > BytesMax) throw InputException.In(name, TooLarge);
        string extension = Kinds.FirstOrDefault(kind => photo.AsSpan().StartsWith(kind.Start)).Extension
            ?? throw InputException.In(name, "neither a JPEG nor a PNG picture.");
        string photos = Path.Combine(folder, Folder), kept = $"{runId}-{revision}{extension}";
        Directory.CreateDirectory(photos);
        using FileStream stream = new(Path.Combine(photos, kept), FileMode.Create, FileAccess.Write);
        stream.Write(photo);
        stream.Flush(flushToDisk: true);
        return kept;
    }

    /// <summary>A kept photo with its media type, or null where it is gone.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="name">The name under which it is kept.</param>
    public static (string Path, string MediaType)? Find(string folder, string name)
    {
        // A name from an imported run must not lead out of the folder.
        if (name.Length == 0 || name != Path.GetFileName(name)) return null;
        string path = Path.Combine(folder, Folder, name);
        return File.Exists(path) ? (path, name.EndsWith(".png", StringComparison.Ordinal) ? "image/png" : "image/jpeg") : null;
    }
}
