using Microsoft.Extensions.Logging;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Records;
using RigDaq.Archive.Recovery;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Archive;

/// <content>Copies, checks, and the way back from nothing but captures and journal.</content>
public sealed partial class RigArchive
{
    private const string Before = ".before";

    /// <summary>
    /// Makes the database anew from all that the folder still holds: the journal, the captures, and what can be read of the database
    /// itself, each record from the best source that proves it. What is replaced is set aside under another name, not deleted. What
    /// differed, was taken from elsewhere or is lost is listed. A capture whose run nothing knows is computed again. What waited to be
    /// published waits on.
    /// </summary>
    /// <param name="folderPath">The data folder; nobody may have it open.</param>
    /// <param name="time">Stamps names and entries.</param>
    /// <param name="logger">Hears what was found.</param>
    /// <param name="compute">Makes a run of a raw pull; may use the archive it is given, which holds studies and calibrations.</param>
    /// <exception cref="ArchiveException">The folder is in use, newer, or has neither a journal nor a database that can be
    /// read.</exception>
    public static RebuildReport Rebuild(string folderPath, TimeProvider time, ILogger logger, Func<PullRecord, RigArchive, Run> compute)
    {
        var folder = new ArchiveFolder(folderPath);
        var sync = new DiskSync();
        var findings = new List<string>();
        IReadOnlyList<string> setAside;
        IReadOnlyList<OutboxMessage> waiting;
        int damagedLines;
        using (FolderLock.Take(folder))
        {
            CreatedMarker.Read(folder);
            PendingRebuild.Finish(folder, time, sync);
            using DatabaseCopy copy = DatabaseCopy.Of(folder);
            if (!File.Exists(folder.Journal) && !File.Exists(folder.PackedJournal)
                && copy.Source is null) throw new ArchiveException(ArchiveText.RebuildWithoutJournal(folder.Journal));
            JournalSource journal = JournalSource.Read(folder);
            var join = new Join(folder, journal, copy.Source, time.GetUtcNow());
            join.LookAtTraces();
            findings.AddRange([.. copy.Faults, .. join.Findings]);
            if (copy.Source is not { WaitingIsKnown: true }) findings.Add(ArchiveText.WaitingNotKnown(folder.Database));
            (waiting, damagedLines) = (copy.Source?.Waiting ?? [], journal.Damaged.Count);
            var captures = new CaptureJournal(folder, sync, logger, _ => false);
            foreach (PullRecord pull in join.Captures) captures.Replace(pull);
            foreach ((string aside, string original) in CaptureFiles.Aside(folder)
                .Where(file => !File.Exists(file.Original))) File.Move(aside, original);
            setAside = PendingRebuild.Run(folder, join.JournalIsNotAll ? join.Entries() : null, time, sync);
        }

        using var archive = new RigArchive(folderPath, time, logger);
        archive._owner.Wait(waiting);
        int recomputed = archive.ComputeWhatIsMissing(compute, findings);
        return archive._owner.Read(database => new RebuildReport(
            database.GetCollection(Collections.Studies).Count(),
            database.GetCollection(Collections.Calibrations).Count(),
            database.GetCollection(Collections.Runs).Count(),
            recomputed,
            damagedLines)) with
        { Findings = [.. findings], SetAside = setAside, PhotoFaults = PhotoFaults(archive) };
    }

    private int ComputeWhatIsMissing(Func<PullRecord, RigArchive, Run> compute, List<string> findings)
    {
        int recomputed = 0;
        foreach (PullRecord pull in Captures.FindUnfinished()) Compute(pull, run => Runs.Store(run, pull, []));
        // A run whose later revisions are all that is left of it: its first version is computed again, and its trace is at hand again.
        string[] without = _owner
            .Read<string[]>(database => [.. database.GetCollection(Collections.Runs).FindAll().Select(document => document["_id"].AsString)
            .Where(run => database.GetCollection(Collections.Pulls).FindById(run) is null)]);
        foreach (string runId in without)
        {
            if (_owner.Captures.Read(runId)?.ToPull() is not { } pull) continue;
            Compute(pull, run => _owner.Commit(
                _
                    => Entries.Run(run, pull, pull.Trace.Samples.Count, TraceContent.Of(pull.Trace).Checksum32(), [],
                    _owner.Time.GetUtcNow()), TraceContent.Of(pull.Trace).Pack()));
            findings.Add(ArchiveText.FirstVersionComputed(runId));
        }

        return recomputed;

        void Compute(PullRecord pull, Action<Run> keep)
        {
            Run run;
            try
            {
                run = compute(pull, this);
            }
            catch (Exception e) when (e is not (IOException or UnauthorizedAccessException))
            {
                findings.Add(ArchiveText.CaptureNotComputed(pull.Head.RunId, e.Message, SetCaptureAside(pull.Head.RunId)));
                return;
            }

            keep(run);
            recomputed++;
        }
    }

    /// <summary>Looks at a folder that nobody has open and changes nothing in it: holds journal, captures, database and photos against each
    /// other.</summary>
    /// <param name="folderPath">The data folder.</param>
    /// <param name="time">The clock.</param>
    /// <exception cref="ArchiveException">The folder is in use or was written by a newer version.</exception>
    public static FolderReport Look(string folderPath, TimeProvider time)
    {
        var folder = new ArchiveFolder(folderPath);
        using FolderLock? held = File.Exists(folder.Lock) ? FolderLock.Take(folder) : null;
        CreatedMarker.Read(folder);
        return FolderLook.At(folder, time.GetUtcNow());
    }

    /// <summary>Gives the capture of a pull that no run can be computed from another name.</summary>
    /// <returns>The new path.</returns>
    /// <exception cref="IOException">It could not be renamed.</exception>
    public string SetCaptureAside(string runId) => _owner.Captures.SetAside(runId, _owner.Time.GetUtcNow());

    /// <summary>
    /// Copies everything to another folder while nothing is written: the database whole, the journal, and those captures and
    /// photos that the other folder does not have yet. The copy can be opened as a data folder.
    /// </summary>
    /// <param name="targetFolderPath">The other folder.</param>
    /// <param name="step">Is told how many captures and photos are copied, and of how many; what it throws ends the copying. Null for
    /// nobody.</param>
    /// <exception cref="IOException">The copy could not be made whole; what was there before is still there.</exception>
    /// <returns>What the copy holds, read back; where it has findings, the database and the journal of the copy before are kept beside
    /// it.</returns>
    public FolderReport Backup(string targetFolderPath, Action<int, int>? step = null)
    {
        var target = new ArchiveFolder(targetFolderPath);
        if (target.Path == _owner.Folder.Path) throw new RefusalException(ArchiveText.BackupOntoItself);
        target.Make();
        OwnersFile.MakeFolder(target.Captures);
        // Captures first and outside the lock: a complete one is never written to; packing puts a whole other file in its place.
        IReadOnlyList<string> captured = _owner.Captures.RunIds();
        for (int i = 0; i < captured.Count; i++)
        {
            step?.Invoke(i, captured.Count);
            CopyCaptures(captured[i], target);
        }

        _owner.WhileStill(() =>
        {
            Copy(_owner.Folder.Database, target.Database, keepsBefore: true);
            // The packed part first: cut off here, a line is in both copies or in one, never in none.
            Copy(_owner.Folder.PackedJournal, target.PackedJournal, keepsBefore: true);
            Copy(_owner.Folder.Journal, target.Journal, keepsBefore: true);
            if (!File.Exists(_owner.Folder.PackedJournal)) KeepBefore(target.PackedJournal);
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
        // A backup that was never read is a hope.
        FolderReport report = Look(target.Path, _owner.Time);
        string[] before = [.. new[] { target.Database, target.Journal, target.PackedJournal }.Select(file => file + Before)
            .Where(File.Exists)];
        if (report.Findings.Count > 0) return report with { KeptOfBefore = before };
        foreach (string file in before) File.Delete(file);
        return report;
    }

    /// <summary>Reads everything once, verifies every checksum, and holds journal, captures, database and photos against each
    /// other.</summary>
    /// <returns>What is damaged, missing or differs, in words; empty when all is well.</returns>
    public IReadOnlyList<string> Verify()
    {
        // The database first: what is kept meanwhile is in the journal before it.
        var database = new DatabaseSource(_owner.Read);
        var join = new Join(_owner.Folder, JournalSource.Read(_owner.Folder), database, _owner.Time.GetUtcNow());
        join.LookAtTraces();
        return [.. join.Findings, .. PhotoFaults(this)];
    }

    private void CopyCaptures(string runId, ArchiveFolder target)
    {
        foreach (string name in new[] { runId + CaptureFormat.Extension, runId + ".stored" + CaptureFormat.Extension })
        {
            string source = Path.Combine(_owner.Folder.Captures, name);
            string copy = Path.Combine(target.Captures, name);
            // A good copy is never replaced by a capture that was damaged meanwhile.
            if (File.Exists(source)
                && (!File.Exists(copy)
                || (new FileInfo(copy).Length != new FileInfo(source).Length && Samples(source) >= Samples(copy)))) Copy(source, copy);
        }
    }

    /// <summary>Reads every record of the database once, without the traces, and says what is damaged; no more than a few.</summary>
    public IReadOnlyList<string> DatabaseFaults() => _owner.NotOpened is { } trouble ? [trouble]
        : [.. new DatabaseSource(_owner.Read).Faults.Take(FaultsMax)];

    private const int FaultsMax = 5;

    /// <summary>The runs that have a capture, by their ids.</summary>
    public IReadOnlyList<string> CapturedRuns() => _owner.Captures.RunIds();

    /// <summary>
    /// Reads a run's samples in both homes; in words where the capture does not bring back what is stored, null where it does
    /// or there is no such run.
    /// </summary>
    /// <exception cref="IOException">One of the two cannot be read, or the database is damaged there.</exception>
    public string? TraceFault(string runId)
    {
        if (Runs.FindPull(runId) is not { } pull) return null;
        CaptureContent? capture = _owner.Captures.Read(runId);
        bool holds = capture is not null && capture.Content.Checksum32() == TraceContent.Of(pull.Trace).Checksum32();
        return holds ? null : ArchiveText.CaptureLacks(runId, capture?.Samples.Count, pull.Trace.Samples.Count);
    }

    private static int Samples(string capture) => CaptureContent.Read(capture).Samples.Count;

    private void CopyPhotos(ArchiveFolder target)
    {
        if (!Directory.Exists(Photos.Folder)) return;
        var copies = new PhotoStore(target.Path, _owner.Sync);
        OwnersFile.MakeFolder(copies.Folder);
        Dictionary<string, string?> named = _owner.Read(NamedPhoto.Of).ToDictionary(photo => photo.Name, photo => photo.Sha256,
            StringComparer.Ordinal);
        foreach (string source in Directory.EnumerateFiles(Photos.Folder).Where(file => PhotoStore.IsName(Path.GetFileName(file))))
        {
            string name = Path.GetFileName(source), copy = Path.Combine(copies.Folder, name);
            // A good copy is never replaced by a photo that was damaged meanwhile.
            bool good = File.Exists(copy) && (named.GetValueOrDefault(name) is { } checksum
                ? PhotoStore.Sha256Of(copy) == checksum
                : new FileInfo(copy).Length == new FileInfo(source).Length);
            if (!good) Copy(source, copy);
        }

        _owner.Sync.Folder(copies.Folder);
    }

    private static string[] PhotoFaults(RigArchive archive)
        => [.. archive._owner.Read(NamedPhoto.Of).Select(photo => photo.Fault(archive.Photos)).OfType<string>()];

    private void Copy(string source, string copy, bool keepsBefore = false)
    {
        if (!File.Exists(source)) return;
        string draft = copy + ".new";
        // Opened for sharing: the database and the journal stay open while they are copied.
        using (var from = new FileStream(source, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete))
        using (FileStream to = OwnersFile.Open(draft, FileMode.Create))
        {
            from.CopyTo(to);
            _owner.Sync.File(to);
        }

        if (keepsBefore) KeepBefore(copy);
        File.Move(draft, copy, overwrite: true);
    }

    private static void KeepBefore(string copy)
    {
        if (File.Exists(copy) && !File.Exists(copy + Before)) File.Move(copy, copy + Before);
    }
}
