using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary>Photos of broken pieces, kept in the data folder beside the runs that they belong to.</summary>
internal static class StudyPhotos
{
    /// <summary>The largest photo, in bytes.</summary>
    public const long BytesMax = 10 << 20;

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
        if (new FileInfo(file).Length > BytesMax) throw InputException.In(file, $"larger than {BytesMax >> 20} MB; make it smaller.");
        byte[] photo = File.ReadAllBytes(file);
        string? extension = Kinds.FirstOrDefault(kind => photo.AsSpan().StartsWith(kind.Start)).Extension
            ?? throw InputException.In(file, "neither a JPEG nor a PNG picture.");
        string photos = Path.Combine(folder, "photos"), name = $"{runId}-{revision}{extension}";
        Directory.CreateDirectory(photos);
        using FileStream stream = new(Path.Combine(photos, name), FileMode.Create, FileAccess.Write);
        stream.Write(photo);
        stream.Flush(flushToDisk: true);
        return name;
    }
}
