using RigDaq.Archive.Storage;

namespace RigDaq.Daemon.Tests;

/// <summary>A disk whose flush of one number fails, once.</summary>
internal sealed class FailingOnce : DiskSync
{
    private bool _counts;
    private int _failing;

    public int Flushes { get; private set; }

    public void Begin(int failing) => (_counts, _failing) = (true, failing);

    public override void File(FileStream file)
    {
        Count();
        base.File(file);
    }

    public override void File(string path)
    {
        Count();
        base.File(path);
    }

    public override void Folder(string path)
    {
        Count();
        base.Folder(path);
    }

    private void Count()
    {
        if (_counts && ++Flushes == _failing) throw new IOException("No space left on device");
    }
}
