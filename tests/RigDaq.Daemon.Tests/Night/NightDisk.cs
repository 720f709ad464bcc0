using RigDaq.Archive.Storage;

namespace RigDaq.Daemon.Tests.Night;

/// <summary>
/// The disk of a night: a folder that the program writes, beside it what a power cut would leave of it (of each file what its
/// last flush
/// held), and flushes that fail while it is full or ill.
/// </summary>
internal sealed class NightDisk(Random random) : DiskSync, IDisposable
{
    private string _live = Make();
    private string _flushed = Make();
    private string? _atDeath;

    /// <summary>The share of flushes that fail; 0 on a good day, 1 on a full disk.</summary>
    public double FailingShare { get; set; }

    /// <summary>Whether the process has died at a flush: nothing is written any more.</summary>
    public bool IsDead { get; private set; }

    /// <summary>At so many more flushes the process dies, in the middle of what it was doing; null for never.</summary>
    public int? DiesAfterFlushes { get; set; }

    /// <summary>At so many more writes the process dies, with a part of what was written in the file; null for never.</summary>
    public int? DiesAfterWrites { get; set; }

    /// <summary>How often a write was cut off in its middle.</summary>
    public int CutWrites { get; private set; }

    /// <summary>Whether something was flushed on the control thread.</summary>
    public bool WasWrittenOnTheControlThread { get; private set; }

    public string LivePath => _live;

    public string FlushedPath => _flushed;

    public override void Write(FileStream file, ReadOnlySpan<byte> bytes)
    {
        if (NightRig.IsControlThread) WasWrittenOnTheControlThread = true;
        if (IsDead) throw new IOException("The process is dead.");
        bool dies = DiesAfterWrites <= 0, fails = FailingShare > 0 && random.NextDouble() < FailingShare;
        if (DiesAfterWrites is { } left) DiesAfterWrites = left - 1;
        if (!dies && !fails)
        {
            base.Write(file, bytes);
            return;
        }

        CutWrites++;
        base.Write(file, bytes[..random.Next(bytes.Length)]);
        if (dies) Die();
        throw new IOException(dies ? "The process is dead." : "No space left on device");
    }

    public override void Cut(FileStream file, long length)
    {
        if (IsDead) throw new IOException("The process is dead.");
        if (FailingShare > 0 && random.Next(4) == 0) throw new IOException("The disk is ill.");
        base.Cut(file, length);
    }

    public override void File(FileStream file)
    {
        Fail();
        base.File(file);
        Keep(file.Name);
    }

    public override void File(string path)
    {
        Fail();
        base.File(path);
        Keep(path);

        // LiteDB flushes its own file when the log is moved into it, before the log is emptied.
        if (path.EndsWith("runs.db", StringComparison.Ordinal)) Keep(Path.Combine(_live, "runs-log.db"));
    }

    public override void Folder(string path)
    {
        Fail();
        base.Folder(path);
    }

    /// <summary>The process dies now; what other threads are still doing comes to nothing.</summary>
    public void Die()
    {
        if (IsDead) return;
        IsDead = true;
        _atDeath = Make();
        Copy(_live, _atDeath);
    }

    /// <summary>The process was killed: whatever it had handed to the system is there.</summary>
    public void Kill()
    {
        Die();
        Become(_atDeath!, torn: false);
    }

    /// <summary>
    /// The power failed: only what was flushed is there, and at the end of the journal perhaps the beginning of a line.
    /// </summary>
    public void CutPower()
    {
        Die();
        Become(_flushed, torn: random.Next(3) == 0);
    }

    public void Dispose()
    {
        Directory.Delete(_live, recursive: true);
        Directory.Delete(_flushed, recursive: true);
        if (_atDeath is not null) Directory.Delete(_atDeath, recursive: true);
    }

    private void Become(string what, bool torn)
    {
        string live = Make(), flushed = Make();
        Copy(what, live);
        if (torn) Tear(Path.Combine(live, "journal.jsonl"));
        Copy(live, flushed);
        Dispose();
        (_live, _flushed, _atDeath, FailingShare, IsDead, DiesAfterFlushes, DiesAfterWrites) = (live, flushed, null, 0, false, null, null);
    }

    /// <summary>How many torn lines stand in the journal at most: a flush that failed may leave one, too.</summary>
    public int TornMax { get; private set; }

    private void Tear(string journal)
    {
        TornMax++;
        byte[] line = "{\"crc32c\":\"0a1b2c3d\",\"entry\":{\"number\":7,\"kind\":\"run\""u8.ToArray();
        using var file = new FileStream(journal, FileMode.Append);
        file.Write(line, 0, 1 + random.Next(line.Length));
    }

    private void Fail()
    {
        if (NightRig.IsControlThread) WasWrittenOnTheControlThread = true;
        if (DiesAfterFlushes is { } left && !IsDead)
        {
            DiesAfterFlushes = left - 1;
            if (left <= 0) Die();
        }

        if (IsDead) throw new IOException("The process is dead.");
        if (FailingShare > 0 && random.NextDouble() < FailingShare) throw new IOException("No space left on device");
    }

    private void Keep(string path)
    {
        // Names are flushed with their folder; a draft's contents are found under its later name, which its open file does not
        // know.
        string later = path.EndsWith(".new", StringComparison.Ordinal) ? path[..^4] : path;
        if (!System.IO.File.Exists(path)) path = later;
        if (!System.IO.File.Exists(path)) return;
        string name = Path.GetRelativePath(_live, later);
        string to = Path.Combine(_flushed, name);
        Directory.CreateDirectory(Path.GetDirectoryName(to)!);
        CopyFile(path, to);
    }

    private static void Copy(string from, string to)
    {
        foreach (string file in Directory.GetFiles(from, "*", SearchOption.AllDirectories))
        {
            // Held by the archive that was open, and empty; a draft counts for nothing before it has its name.
            if (file.EndsWith("archive.lock", StringComparison.Ordinal) || file.EndsWith(".new", StringComparison.Ordinal)) continue;
            string target = Path.Combine(to, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            CopyFile(file, target);
        }
    }

    private static void CopyFile(string from, string to)
    {
        using var source = new FileStream(from, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        using var target = System.IO.File.Create(to);
        source.CopyTo(target);
    }

    // In memory where the system has such a folder: thousands of nights are no work for a disk.
    private static string Make()
    {
        string root = Directory.Exists("/dev/shm") ? "/dev/shm" : Path.GetTempPath();
        return Directory.CreateDirectory(Path.Combine(root, $"rigdaq-night-{Guid.NewGuid():N}")).FullName;
    }
}
