using Microsoft.Extensions.Logging;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Records;
using RigDaq.Archive.Recovery;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Strength;

namespace RigDaq.Archive;

/// <content>Copies, checks, and the way back from nothing but captures and journal.</content>
public sealed partial class RigArchive
{
    /// <summary>
    /// Makes the database anew from the journal and the captures. The old one is set aside under another name, not deleted.
    /// Runs come back with every revision as they were; a capture whose run the journal does not know is computed again.
    /// What waited to be published is not sent a second time.
    /// </summary>
    /// <param name="folderPath">The data folder; nobody may have it open.</param>
    /// <param name="time">Stamps names and entries.</param>
    /// <param name="logger">Hears what was found.</param>
    /// <param name="compute">Makes a run of a raw pull; may use the archive it is given, which holds studies and calibrations.</param>
    /// <exception cref="ArchiveException">The folder is in use, newer, or has no journal.</exception>
    public static RebuildReport Rebuild(string folderPath, TimeProvider time, ILogger logger, Func<PullRecord, RigArchive, Run> compute)
    {
        var folder = new ArchiveFolder(folderPath);
        using (FolderLock.Take(folder))
        {
            CreatedMarker.Read(folder);
            if (!File.Exists(folder.Journal)) throw new ArchiveException(ArchiveText.RebuildWithoutJournal(folder.Journal));
            Opening.SetAside(folder.Database, time);
            Opening.SetAside(folder.DatabaseLog, time);
        }

        using var archive = new RigArchive(folderPath, time, logger);
        int damagedLines = 0;
        archive._owner.JournalEntries(_ => damagedLines++);
        int recomputed = 0;
        foreach (PullRecord pull in archive.Captures.FindUnfinished())
        {
            archive.Store(compute(pull, archive), pull, []);
            recomputed++;
        }

        return archive._owner.Read(database => new RebuildReport(
            database.GetCollection(Collections.Studies).Count(),
            database.GetCollection(Collections.Calibrations).Count(),
            database.GetCollection(Collections.Runs).Count(),
            recomputed,
            damagedLines)) with
        { PhotoFaults = PhotoFaults(archive) };
    }

    /// <summary>Gives the capture of a pull that no run can be computed from another name.</summary>
    /// <returns>The new path.</returns>
    /// <exception cref="IOException">It could not be renamed.</exception>
    public string SetCaptureAside(string runId) => _owner.Captures.SetAside(runId, _owner.Time.GetUtcNow());

    /// <summary>
    /// Copies everything to another folder while nothing is written: the database whole, the journal, and those captures and
    /// photos that the other folder does not have yet. The copy can be opened as a data folder.
    /// </summary>
    /// <exception cref="IOException">The copy could not be made whole; what was there before is still there.</exception>
    public void Backup(string targetFolderPath)
    {
        var target = new ArchiveFolder(targetFolderPath);
        if (target.Path == _owner.Folder.Path) throw new ArgumentException(ArchiveText.BackupOntoItself, nameof(targetFolderPath));
        Directory.CreateDirectory(target.Captures);
        // Captures first and outside the lock: they are never changed once they are complete.
        foreach (string runId in _owner.Captures.RunIds()) CopyCaptures(runId, target);
        _owner.WhileStill(() =>
        {
            Copy(_owner.Folder.Database, target.Database);
            Copy(_owner.Folder.Journal, target.Journal);
            Copy(_owner.Folder.Marker, target.Marker);
            // The copied database is whole; a log from an earlier state of the target would be read over it.
            File.Delete(target.DatabaseLog);
        });
        // A run that was stored in the meantime is in the copied database; its capture must be there too.
        foreach (string runId in _owner.Captures.RunIds()) CopyCaptures(runId, target);
        // A photo is kept before a run names it, so that whatever the copied database names is there by now.
        CopyPhotos(target);
        _owner.Sync.Folder(target.Captures);
        _owner.Sync.Folder(target.Path);
    }

    /// <summary>Reads everything once and verifies every checksum. Takes a while; other calls wait for no more than one record.</summary>
    /// <returns>What is damaged, in words; empty when all is well.</returns>
    public IReadOnlyList<string> Verify()
    {
        var findings = new List<string>();
        Integrity.Check(_owner, findings);
        findings.AddRange(PhotoFaults(this));
        return findings;
    }

    private void CopyCaptures(string runId, ArchiveFolder target)
    {
        foreach (string name in new[] { runId + CaptureFormat.Extension, runId + ".stored" + CaptureFormat.Extension })
        {
            string source = Path.Combine(_owner.Folder.Captures, name);
            string copy = Path.Combine(target.Captures, name);
            if (File.Exists(source) && (!File.Exists(copy) || new FileInfo(copy).Length != new FileInfo(source).Length)) Copy(source, copy);
        }
    }

    private void CopyPhotos(ArchiveFolder target)
    {
        if (!Directory.Exists(Photos.Folder)) return;
        var copies = new PhotoShelf(target.Path, _owner.Sync);
        Directory.CreateDirectory(copies.Folder);
        Dictionary<string, string?> named = NamedPhoto.Of(_owner).ToDictionary(photo => photo.Name, photo => photo.Sha256, StringComparer.Ordinal);
        foreach (string source in Directory.EnumerateFiles(Photos.Folder).Where(file => PhotoShelf.IsName(Path.GetFileName(file))))
        {
            string name = Path.GetFileName(source), copy = Path.Combine(copies.Folder, name);
            // A good copy is never replaced by a photo that was damaged meanwhile.
            bool good = File.Exists(copy) && (named.GetValueOrDefault(name) is { } checksum
                ? PhotoShelf.Sha256Of(copy) == checksum
                : new FileInfo(copy).Length == new FileInfo(source).Length);
            if (!good) Copy(source, copy);
        }

        _owner.Sync.Folder(copies.Folder);
    }

    private static string[] PhotoFaults(RigArchive archive) => [.. NamedPhoto.Of(archive._owner).Select(photo => photo.Fault(archive.Photos)).OfType<string>()];

    private void Copy(string source, string copy)
    {
        if (!File.Exists(source)) return;
        string draft = copy + ".new";
        // Opened for sharing: the database and the journal stay open while they are copied.
        using (var from = new FileStream(source, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete))
        using (var to = new FileStream(draft, FileMode.Create, FileAccess.Write, FileShare.None))
        {
            from.CopyTo(to);
            _owner.Sync.File(to);
        }

        File.Move(draft, copy, overwrite: true);
    }
}
