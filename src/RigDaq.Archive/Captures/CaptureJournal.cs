using System.Collections.Concurrent;
using Microsoft.Extensions.Logging;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Pulls;

namespace RigDaq.Archive.Captures;

/// <summary>The folder of captures: one file a pull, named for its run, kept for good.</summary>
internal sealed class CaptureJournal : ICaptureJournal
{
    /// <summary>No pull starts with less room than this: the longest pull at the highest rate needs a tenth of it.</summary>
    public const long LeastFreeBytes = 64L * 1024 * 1024;

    private const string DraftExtension = ".new";

    // A capture of a run that is being imported: it gets its name once the run is kept, and is a copy of the package's until then.
    internal const string StagedExtension = ".import";
    private readonly ArchiveFolder _folder;
    private readonly DiskSync _sync;
    private readonly ILogger _logger;
    private readonly Func<string, bool> _isStored;
    private readonly ConcurrentDictionary<string, byte> _open = new(StringComparer.OrdinalIgnoreCase);

    /// <param name="folder">Where.</param>
    /// <param name="sync">How.</param>
    /// <param name="logger">For what is found at start.</param>
    /// <param name="isStored">Whether a run id is in the database.</param>
    public CaptureJournal(ArchiveFolder folder, DiskSync sync, ILogger logger, Func<string, bool> isStored)
    {
        _folder = folder;
        _sync = sync;
        _logger = logger;
        _isStored = isStored;
        OwnersFile.MakeFolder(folder.Captures);
        // A draft's Begin never returned: no pull started.
        foreach (string draft in Directory.EnumerateFiles(folder.Captures, "*" + DraftExtension)) File.Delete(draft);
    }

    /// <summary>
    /// Writes the capture of a run that is about to be kept, unless the captures bring back its samples already. It counts once the run is
    /// kept.
    /// </summary>
    public void Stage(PullRecord pull, uint traceChecksum)
    {
        if (!Holds(pull.Head.RunId, traceChecksum)) Write(pull, PathOf(pull.Head.RunId) + StagedExtension);
    }

    /// <summary>Gives staged captures whose runs were kept their names, and lets the others go.</summary>
    public void Settle()
    {
        string[] all = [.. Directory.EnumerateFiles(_folder.Captures, "*" + StagedExtension)];
        foreach (string staged in all)
        {
            string path = staged[..^StagedExtension.Length], runId = Path.GetFileNameWithoutExtension(path);
            if (_isStored(runId)) File.Move(staged, File.Exists(path) ? StoredPathOf(runId) : path, overwrite: true);
            else File.Delete(staged);
        }

        if (all.Length > 0) _sync.Folder(_folder.Captures);
    }

    public ICaptureWriter Begin(PullHead head)
    {
        string path = PathOf(head.RunId);
        if (File.Exists(path)) throw new IOException(ArchiveText.CaptureThereAlready(head.RunId, path));
        if (!_open.TryAdd(head.RunId, 0)) throw new IOException(ArchiveText.CaptureBeingWritten(head.RunId));
        try
        {
            return Create(head, path, () => _open.TryRemove(head.RunId, out _));
        }
        catch
        {
            _open.TryRemove(head.RunId, out _);
            throw;
        }
    }

    /// <summary>
    /// Captures whose run is not in the database: those without an ending become interrupted; those that ended, and whose
    /// run could not be stored before the program ended, keep their ending.
    /// </summary>
    public IReadOnlyList<PullRecord> FindUnfinished()
    {
        var found = new List<PullRecord>();
        foreach (string runId in RunIds())
        {
            if (_open.ContainsKey(runId) || _isStored(runId) || TryRead(runId) is not { } capture) continue;
            if (capture.ToPull() is not { } pull)
            {
                _logger.LogError(
                    "The capture '{Path}' has no readable head, so its run cannot be stored. It is kept; look at it by hand.",
                        PathOf(runId));
                continue;
            }

            Say(runId, capture);
            found.Add(pull);
        }

        return [.. found.OrderBy(pull => pull.Head.StartedAt).ThenBy(pull => pull.Head.RunId, StringComparer.Ordinal)];
    }

    /// <summary>Gives a capture that no run can be computed from another name, so that it is not tried at every start.</summary>
    /// <returns>The new path.</returns>
    public string SetAside(string runId, DateTimeOffset now)
    {
        string path = PathOf(runId), aside = ArchiveFolder.Aside(path, now);
        File.Move(path, aside);
        _sync.Folder(_folder.Captures);
        return aside;
    }

    /// <summary>The run ids of all captures that are not being written.</summary>
    public IReadOnlyList<string> RunIds() => [.. CaptureFiles.RunIds(_folder).Where(id => !_open.ContainsKey(id))];

    /// <inheritdoc cref="CaptureFiles.Read"/>
    public CaptureContent? Read(string runId) => CaptureFiles.Read(_folder, runId);

    /// <summary>Writes a capture of a stored run whose own does not bring back its samples any more; beside that, where there is
    /// one.</summary>
    public void Replace(PullRecord pull)
        => Write(pull, File.Exists(PathOf(pull.Head.RunId)) ? StoredPathOf(pull.Head.RunId) : PathOf(pull.Head.RunId));

    private bool Holds(string runId, uint traceChecksum) =>
        !_open.ContainsKey(runId) && Read(runId) is { Head: not null } capture && capture.Content.Checksum32() == traceChecksum;

    /// <summary>
    /// Makes sure that the captures alone can bring back this pull's samples: one that came another way than the wire (an
    /// import) gets a capture, and where the capture holds other samples than the pull, what is stored is written beside it.
    /// </summary>
    public void Ensure(PullRecord pull, uint traceChecksum)
    {
        string runId = pull.Head.RunId;
        if (Holds(runId, traceChecksum))
        {
            // The flush at its end may have failed (a simulated night found it): what is read back now may be in memory only.
            foreach (string path in new[] { PathOf(runId), StoredPathOf(runId) }.Where(File.Exists)) _sync.File(path);
            return;
        }

        if (File.Exists(PathOf(runId)))
        {
            _logger.LogWarning(
                "The capture of run {Run} does not hold the {Stored} samples that the run has; the run's own are written beside it.",
                runId, pull.Trace.Samples.Count);
            Write(pull, StoredPathOf(runId));
        }
        else
        {
            Write(pull, PathOf(runId));
        }
    }

    /// <summary>
    /// Writes the capture of a stored run anew in few bytes. The one that was written while the pull lasted stays until the new one is on
    /// the disk and was read back; where it is not whole, or holds other samples than the run, it stays for good.
    /// </summary>
    /// <param name="runId">The run, stored.</param>
    /// <param name="traceChecksum">Of its samples.</param>
    public void Pack(string runId, uint traceChecksum)
    {
        string path = PathOf(runId);
        if (_open.ContainsKey(runId) || File.Exists(StoredPathOf(runId)) || !File.Exists(path)) return;
        try
        {
            if (CaptureContent.Read(path) is { Whole: true, IsPacked: false, Head: { } head, Trailer: { } trailer } capture
                && capture.Content.Checksum32() == traceChecksum)
            {
                Write(PackedCapture.Of(head, trailer, capture.Content), path, traceChecksum);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            _logger.LogWarning(e, "The capture '{Path}' stays as it was written: it could not be packed.", path);
        }
    }

    private void Write(PullRecord pull, string path)
    {
        RefuseFullDisk();
        Write(PackedCapture.Of(pull), path, TraceContent.Of(pull.Trace).Checksum32());
    }

    // Whole under its name or not at all; what was there before stays until then.
    private void Write(byte[] bytes, string path, uint traceChecksum)
    {
        if (CaptureContent.Read(bytes) is not { Whole: true, Head: not null } back || back.Content.Checksum32() != traceChecksum)
            throw new IOException(ArchiveText.CaptureNotPacked(path));
        string draft = path + DraftExtension;
        using (FileStream file = OwnersFile.Open(draft, FileMode.Create, share: FileShare.Read | FileShare.Delete, bufferSize: 0))
        {
            _sync.Write(file, bytes);
            _sync.File(file);
        }

        File.Move(draft, path, overwrite: true);
        _sync.Folder(_folder.Captures);
    }

    private CaptureWriter Create(PullHead head, string path, Action closed)
    {
        RefuseFullDisk();
        string draft = path + DraftExtension;
        // Written under another name until its head is on the disk: a capture always has a head.
        FileStream file = OwnersFile.Open(draft, FileMode.Create, share: FileShare.Read | FileShare.Delete, bufferSize: 0);
        try
        {
            _sync.Write(file, [.. CaptureFormat.Name, .. CaptureFormat.TextRecord(CaptureFormat.HeadKind, head)]);
            _sync.File(file);
            File.Move(draft, path, overwrite: true);
            _sync.Folder(_folder.Captures);
        }
        catch
        {
            file.Dispose();
            throw;
        }

        return new CaptureWriter(file, _sync, closed);
    }

    private CaptureContent? TryRead(string runId)
    {
        try
        {
            return CaptureContent.Read(PathOf(runId));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            _logger.LogError(e, "The capture '{Path}' cannot be read, so its run cannot be stored. It is tried again at the next start.",
                PathOf(runId));
            return null;
        }
    }

    private void Say(string runId, CaptureContent capture)
    {
        if (capture.DamagedBytes > 0)
        {
            _logger.LogWarning(
                "The capture of run {Run} is damaged: {Bytes} bytes were left out; the gap counts as lost samples.", runId,
                    capture.DamagedBytes);
        }

        _logger.LogInformation(
            "Run {Run} had not been stored: {Samples} samples found, {State}, {Torn} bytes of an unfinished block cut.",
            runId, capture.Samples.Count, capture.Trailer is null ? "interrupted" : "complete", capture.TornBytes);
    }

    private void RefuseFullDisk()
    {
        long free = new DriveInfo(_folder.Captures).AvailableFreeSpace;
        if (free >= LeastFreeBytes) return;
        throw new IOException(ArchiveText.CaptureDiskFull(_folder.Captures, free / 1_000_000, LeastFreeBytes / 1_000_000));
    }

    private string StoredPathOf(string runId) => CaptureFiles.PathOf(_folder, Checked(runId), ".stored");

    private string PathOf(string runId) => CaptureFiles.PathOf(_folder, Checked(runId), "");

    private static string Checked(string runId) =>
        Guid.TryParse(runId, out _) ? runId : throw new ArgumentException($"'{runId}' is no run id (a UUID in text form).", nameof(runId));
}
