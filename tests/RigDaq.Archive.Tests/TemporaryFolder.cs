namespace RigDaq.Archive.Tests;

/// <summary>A folder that is gone after the test.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("rigdaq-archive-").FullName;

    public string In(params string[] names) => System.IO.Path.Combine([Path, .. names]);

    public TemporaryFolder CopyOfFiles()
    {
        var copy = new TemporaryFolder();
        CopyTo(copy.Path);
        return copy;
    }

    public void CopyTo(string target)
    {
        foreach (string file in Directory.GetFiles(Path, "*", SearchOption.AllDirectories))
        {
            // Held by the open archive, and empty.
            if (file.EndsWith("archive.lock", StringComparison.Ordinal)) continue;
            // A draft may get its name while the copy is made: it counts for nothing before that.
            if (file.EndsWith(".new", StringComparison.Ordinal)) continue;
            string to = System.IO.Path.Combine(target, System.IO.Path.GetRelativePath(Path, file));
            Directory.CreateDirectory(System.IO.Path.GetDirectoryName(to)!);
            // Not File.Copy: it asks for a lock that the open archive does not grant.
            using var source = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            using var destination = File.Create(to);
            source.CopyTo(destination);
        }
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
