using Microsoft.Extensions.Logging;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core;
using RigDaq.Core.Callers;
using RigDaq.Core.Pulls;

namespace RigDaq.Archive;

/// <summary>
/// Everything that is kept, in one data folder: studies, calibrations, runs with their revisions and raw traces, what waits
/// to be published, and the captures. Safe for calls from any thread; each waits for the one before it. What a call
/// returns is detached. What a call has stored survives a power cut.
/// </summary>
public sealed partial class RigArchive : IDisposable
{
    /// <summary>No id is longer, so that every id fits an index and a file name.</summary>
    public const int LongestId = 100;

    private readonly ArchiveOwner _owner;

    /// <summary>Opens the folder, or makes it. A lost database is made anew from the journal and the captures, and said.</summary>
    /// <param name="folderPath">The data folder.</param>
    /// <param name="time">Stamps the journal.</param>
    /// <param name="logger">Hears what was found and put right.</param>
    /// <exception cref="ArchiveException">
    /// Another process has the folder, a newer version wrote it, or it is damaged; the message says what to do.
    /// </exception>
    public RigArchive(string folderPath, TimeProvider time, ILogger logger) : this(folderPath, time, logger, new DiskSync()) { }

    internal RigArchive(string folderPath, TimeProvider time, ILogger logger, DiskSync sync, bool evenDamaged = false,
        long packAtBytes = JournalPacking.AtBytes)
    {
        _owner = new ArchiveOwner(new ArchiveFolder(folderPath), time, logger, sync, evenDamaged, packAtBytes);
        Photos = new PhotoStore(_owner.Folder.Path, sync);
        (Runs, Studies, Calibrations, Diary, Outbox) = (new(_owner), new(_owner), new(_owner), new(_owner), new(_owner));
        Compliances = new ComplianceRepository(_owner, Calibrations, Runs);
    }

    /// <summary>
    /// The same over a database that cannot be opened, too, for who must go on without it (a rig can be stopped and shown all the same):
    /// every call then throws an <see cref="ArchiveException"/> with the words of <see cref="Trouble"/>.
    /// </summary>
    /// <inheritdoc cref="RigArchive(string, TimeProvider, ILogger)"/>
    public static RigArchive OpenEvenDamaged(string folderPath, TimeProvider time, ILogger logger)
        => new(folderPath, time, logger, new DiskSync(), evenDamaged: true);

    /// <summary>What is wrong with the database, in words with what to do; null while nothing is known of it. Does not wait for whoever
    /// writes.</summary>
    public string? Trouble => _owner.Trouble;

    /// <summary>That others of this machine can look into the folder or a file of it, in words with the command that ends it; null where
    /// they cannot.</summary>
    public string? OpenToOthers => _owner.Folder.IsOpenToOthers ? ArchiveText.FolderOpenToOthers(_owner.Folder.Path) : null;

    /// <summary>
    /// Where the samples of a pull go while it lasts. Its <see cref="ICaptureJournal.FindUnfinished"/> gives every pull whose
    /// run is not in the archive: those that were cut short, as interrupted, and those that ended but were not stored.
    /// </summary>
    public ICaptureJournal Captures => _owner.Captures;

    /// <summary>The names under which files of an earlier version were copied aside when the folder was opened; empty where this version
    /// wrote it.</summary>
    public IReadOnlyList<string> SetAside => _owner.SetAside;

    /// <summary>Who asks for what is kept now; null where nobody does. Whoever hosts the archive says it.</summary>
    public Func<By?> Who
    {
        get => _owner.Who;
        set => _owner.Who = value;
    }

    /// <summary>The data folder.</summary>
    public string Folder => _owner.Folder.Path;

    /// <summary>Photos of broken pieces.</summary>
    public PhotoStore Photos { get; }

    /// <summary>The runs.</summary>
    public RunRepository Runs { get; }

    /// <summary>The studies.</summary>
    public StudyRepository Studies { get; }

    /// <summary>The calibrations.</summary>
    public CalibrationRepository Calibrations { get; }

    /// <summary>The machines' compliances.</summary>
    public ComplianceRepository Compliances { get; }

    /// <summary>What is kept about a rig besides.</summary>
    public RigDiary Diary { get; }

    /// <summary>What waits to be published.</summary>
    public Outbox Outbox { get; }

    /// <summary>Rises with whatever is kept: who reads it first and the rest after it need not look again while it stays. Never
    /// waits.</summary>
    public long LastEntry => _owner.LastNumber;

    internal ArchiveOwner Owner => _owner;

    /// <summary>Closes the folder; it can be opened by another process then.</summary>
    public void Dispose() => _owner.Dispose();

    internal static void CheckId(string id, string what)
    {
        if (string.IsNullOrWhiteSpace(id) || id.Length > LongestId) throw new RefusalException(ArchiveText.IdLength(what, LongestId));
    }
}
