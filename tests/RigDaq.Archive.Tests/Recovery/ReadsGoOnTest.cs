using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Tests.Recovery;

/// <summary>A disk that takes nothing any more gives back all the same what is on it.</summary>
public sealed class ReadsGoOnTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(0)]
    [InlineData(1)] // What goes to the journal gets through, what goes to the database does not.
    public void What_was_kept_can_be_read_while_nothing_can_be_written(int flushesThatSucceed)
    {
        var disk = new FailingDisk();
        using var archive = new RigArchive(_folder.Path, TimeProvider.System, NullLogger.Instance, disk);
        archive.Studies.Save(Example.Study(), "new");
        string run = Example.Store(archive, 1).Head.RunId;
        disk.Left = flushesThatSucceed;
        Assert.Throws<IOException>(() => archive.Calibrations.Save(Example.Calibration()));
        for (int again = 0; again < 2; again++)
        {
            Assert.Equal(Example.Study().Id, archive.Studies.Find(Example.Study().Id)?.Id);
            Assert.Equal(run, Assert.Single(archive.Runs.Latest(10)).Head.RunId);
            Assert.NotNull(archive.Runs.FindPull(run));
            Assert.Null(archive.Trouble);
            Assert.Throws<IOException>(() => archive.Studies.Save(Example.Study() with { Name = "another" }, "renamed"));
        }

        disk.Left = null;
        archive.Calibrations.Save(Example.Calibration());
        Assert.NotNull(archive.Calibrations.Find(Example.Calibration().Id));
        Assert.Empty(archive.Verify());
    }

    /// <summary>Every flush fails once as many as are left were done.</summary>
    private sealed class FailingDisk : DiskSync
    {
        /// <summary>How many flushes still succeed; null for all.</summary>
        public int? Left { get; set; }

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
            if (Left is 0) throw new IOException("No space left on device");
            Left--;
        }
    }
}
