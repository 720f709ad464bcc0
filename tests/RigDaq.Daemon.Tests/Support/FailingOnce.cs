using RigDaq.Archive.Storage;

namespace RigDaq.Daemon.Tests;

/// <summary>A disk whose flush of one number fails, once.</summary>
internal sealed class FailingOnce : DiskSync
{
    private bool _counts;
    private int _failing;
    private bool _flushed;

    public int Flushes { get; private set; }

    /// <summary>Counts from here on.</summary>
    /// <param name="failing">The number of the flush that fails; 0 for none.</param>
    /// <param name="flushed">Whether it fails only after it was done.</param>
    public void Begin(int failing, bool flushed = false) => (_counts, _failing, _flushed) = (true, failing, flushed);

    public override void File(FileStream file) => Count(() => base.File(file));

    public override void File(string path) => Count(() => base.File(path));

    public override void Folder(string path) => Count(() => base.Folder(path));

    private void Count(Action flush)
    {
        bool fails = _counts && ++Flushes == _failing;
        if (!fails || _flushed) flush();
        if (fails) throw new IOException("No space left on device");
    }
}
