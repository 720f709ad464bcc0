using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Tests.Recovery;

/// <summary>Beside the folder that is written, the disk as a power cut leaves it in the worst case: of each file what its last flush held,
/// and nothing since.</summary>
internal class MirroringSync(TemporaryFolder live, TemporaryFolder disk) : DiskSync
{
    protected TemporaryFolder Live => live;

    public override void File(FileStream file)
    {
        base.File(file);
        Mirror(file.Name);
    }

    public override void File(string path)
    {
        base.File(path);
        Mirror(path);
        // LiteDB flushes its own file when the log is moved into it, before the log is emptied.
        if (path.EndsWith("runs.db", StringComparison.Ordinal)) Mirror(live.In("runs-log.db"));
    }

    private void Mirror(string path)
    {
        // Names are flushed with their folder; a draft's contents are found under its later name, which its open file does not know.
        string later = path.EndsWith(".new", StringComparison.Ordinal) ? path[..^4] : path;
        if (!System.IO.File.Exists(path)) path = later;
        if (!System.IO.File.Exists(path)) return;
        string name = Path.GetRelativePath(live.Path, later);
        Directory.CreateDirectory(Path.GetDirectoryName(disk.In(name))!);
        using var source = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        using var target = System.IO.File.Create(disk.In(name));
        source.CopyTo(target);
    }
}
