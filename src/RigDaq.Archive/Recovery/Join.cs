using RigDaq.Archive.Captures;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Recovery;

/// <summary>
/// A folder's three homes of its records held against each other: what one lacks another may have. What the database is, it is up to the
/// last entry that it holds; what the journal has after that is later. So each record comes from the best source that proves it, and what
/// differs is said.
/// </summary>
internal sealed class Join
{
    private readonly JournalSource _journal;
    private readonly DatabaseSource? _database;
    private readonly ArchiveFolder _folder;
    private readonly DateTimeOffset _now;
    private readonly List<string> _findings = [];
    private readonly List<JournalEntry> _additions = [];
    private readonly List<JournalEntry> _versions = [];

    // What the journal has up to the last entry that the database holds, and between it the versions that only the database has.
    private readonly List<JournalEntry> _past;
    private readonly List<PullRecord> _captures = [];

    /// <param name="folder">Where the captures are.</param>
    /// <param name="journal">What the journal holds.</param>
    /// <param name="database">What the database holds; null where there is none that can be read.</param>
    /// <param name="now">Stamps what only the database knows without a moment.</param>
    public Join(ArchiveFolder folder, JournalSource journal, DatabaseSource? database, DateTimeOffset now)
    {
        (_folder, _journal, _database, _now) = (folder, journal, database, now);
        _past = [.. journal.Entries.Where(entry => entry.Number <= (database?.JournalNumber ?? 0))];
        foreach (JournalLine line in journal.Damaged) _findings
            .Add(ArchiveText.JournalLineDamaged(line.Number, line.IsPacked ? folder.PackedJournal : folder.Journal, line.About));
        foreach ((JournalEntry entry, string fault) in journal.Unusable) _findings
            .Add(ArchiveText.JournalEntryUnusable(entry.Number, entry.Kind.ToString(), entry.Id, fault));
        if (database is not null)
        {
            _findings.AddRange(database.Faults);
            JoinVersions(database);
            JoinLatest(database);
            JoinRevisions(database);
        }
    }

    /// <summary>What differs, is damaged or is missing, in words, with where it is to be had.</summary>
    public IReadOnlyList<string> Findings => [.. _findings.Distinct()];

    /// <summary>What only the database holds, to stand behind the journal: the present version of a study is its last.</summary>
    public IReadOnlyList<JournalEntry> Additions => [.. _versions, .. _additions, .. Presents()];

    /// <summary>Pulls whose captures do not bring back their samples and that are had elsewhere.</summary>
    public IReadOnlyList<PullRecord> Captures => _captures;

    /// <summary>Whether the journal by itself is not all that is known.</summary>
    public bool JournalIsNotAll => _additions.Count + _versions.Count > 0 || _journal.Damaged.Count > 0 || _journal.Unusable.Count > 0;

    /// <summary>The journal that holds everything, numbered from 1.</summary>
    public IEnumerable<JournalEntry> Entries()
    {
        long known = _database?.JournalNumber ?? 0;
        return _past.Concat(_additions).Concat(_journal.Entries.Where(entry => entry.Number > known))
            .Select((entry, i) => entry with { Number = i + 1, Batch = null });
    }

    private void JoinVersions(DatabaseSource database)
    {
        if (!database.KnowsVersions) return;
        ILookup<(string, string), JournalEntry> kept = database.Versions.ToLookup(What), journalled = _journal.Entries
            .Where(entry => entry.Kind == EntryKind.Study).ToLookup(What);
        foreach (JournalEntry version in database.Versions.Where(version => !journalled[What(version)].Any(entry => Same(entry, version))))
        {
            JournalEntry missing = Stamped(version);
            if (!TryAdd(missing, ArchiveText.JournalLacksVersion(version.Kind.ToString(), version.Id), _versions)) continue;
            int next = _past.FindIndex(entry => entry.Number > version.Number);
            _past.Insert(next < 0 ? _past.Count : next, missing);
        }

        foreach (JournalEntry entry in journalled.SelectMany(entries => entries).Where(entry => entry.Number <= database.JournalNumber
            && !kept[What(entry)].Any(version => Same(entry, version))))
            _findings.Add(ArchiveText.DatabaseLacksVersion(entry.Id));

        // Numbers are given anew by a rebuild, moments are not.
        static bool Same(JournalEntry entry, JournalEntry version) => entry.At == version.At || version.At == default;
        static (string, string) What(JournalEntry entry) => (entry.Id, entry.Record);
    }

    private IEnumerable<JournalEntry> Presents() => _versions.GroupBy(version => version.Id)
        .Where(versions => _database!.Latest.TryGetValue((EntryKind.Study, versions.Key), out JournalEntry? present)
            && present.Record != versions.Last().Record && !_additions.Contains(present))
        .Select(versions => Stamped(_database!.Latest[(EntryKind.Study, versions.Key)]));

    private JournalEntry Stamped(JournalEntry entry) => entry.At == default ? entry with { At = _now } : entry;

    private void JoinLatest(DatabaseSource database)
    {
        ILookup<(EntryKind, string), JournalEntry> journalled = _past
            .Concat(_journal.Entries.Where(entry => entry.Number > database.JournalNumber))
            .Where(entry => entry.Kind is not (EntryKind.Run or EntryKind.Revision)).ToLookup(entry => (entry.Kind, entry.Id));
        foreach (((EntryKind kind, string id), JournalEntry kept) in database.Latest)
        {
            JournalEntry[] all = [.. journalled[(kind, id)]];
            JournalEntry? last = all.LastOrDefault(entry => entry.Number <= database.JournalNumber);
            if (last?.Record == kept.Record) continue;
            // A version of before that stands last in the journal is no later one.
            bool isBefore = last is not null && database.Versions.Any(version => version.Id == id && version.At == last.At
                && version.Record == last.Record);
            if (!isBefore && all.Any(entry => entry.Record == kept.Record))
                _findings.Add(ArchiveText.DatabaseIsBehind(kind.ToString(), id));
            else Add(Stamped(kept), all.Length == 0 ? ArchiveText.JournalLacks(kind.ToString(), id)
                : ArchiveText.JournalLacksVersion(kind.ToString(), id));
        }

        foreach (var entries in journalled.Where(entries => !database.Latest.ContainsKey(entries.Key)
            && entries.Any(entry => entry.Number <= database.JournalNumber)))
            _findings.Add(ArchiveText.DatabaseLacks(entries.Key.Item1.ToString(), entries.Key.Item2));
    }

    private void JoinRevisions(DatabaseSource database)
    {
        var journalled = new Dictionary<(string, int), JournalEntry>();
        foreach (JournalEntry entry in _journal.Entries.Where(entry => entry.Kind is EntryKind.Run or EntryKind.Revision))
            journalled[(entry.Id, RecordText.Read<Run>(entry.Record).Revision)] = entry;
        foreach (((string run, int revision), string text) in database.Revisions.OrderBy(kept => kept.Key.Run, StringComparer.Ordinal)
            .ThenBy(kept => kept.Key.Revision))
        {
            if (!journalled.TryGetValue((run, revision), out JournalEntry? entry)) Add(RunEntry(database, run, revision, text),
                ArchiveText.JournalLacksRevision(run, revision));
            else if (entry.Record != text) _findings.Add(ArchiveText.RevisionDiffers(run, revision));
        }

        foreach (((string run, int revision), JournalEntry entry) in journalled.Where(pair => pair.Value.Number <= database.JournalNumber))
        {
            if (!database.Revisions.ContainsKey((run, revision))) _findings.Add(ArchiveText.DatabaseLacksRevision(run, revision));
            else if (entry.Pull is { } pull && database.Pulls.GetValueOrDefault(run) != pull) _findings
                .Add(ArchiveText.DatabaseLacksPull(run));
        }
    }

    private JournalEntry RunEntry(DatabaseSource database, string run, int revision, string text)
    {
        var entry = new JournalEntry { At = _now, Kind = EntryKind.Revision, Id = run, Record = text, Reason = ArchiveText.WrittenAgain };
        if (revision != 0 || database.Pulls.GetValueOrDefault(run) is not { } pull) return entry;
        TraceContent content = database.Content(run) ?? ReadCapture(run)?.Content ?? TraceContent.Nothing;
        return entry with { Kind = EntryKind.Run, Pull = pull, Samples = content.Samples.Count, TraceChecksum = content.Checksum32() };
    }

    private void Add(JournalEntry entry, string finding) => TryAdd(entry, finding, _additions);

    private bool TryAdd(JournalEntry entry, string finding, List<JournalEntry> to)
    {
        if (EntryProof.Fault(entry) is { } fault)
        {
            _findings.Add(ArchiveText.JournalEntryUnusable(0, entry.Kind.ToString(), entry.Id, fault));
            return false;
        }

        to.Add(entry);
        _findings.Add(finding);
        return true;
    }

    /// <summary>Holds the captures and the database's traces against what was stored.</summary>
    public void LookAtTraces()
    {
        var runs = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (JournalEntry entry in Entries().Where(entry => entry.Kind is EntryKind.Run or EntryKind.Revision))
        {
            runs.Add(entry.Id);
            if (entry.Kind == EntryKind.Run) LookAtTrace(entry);
        }

        foreach (string run in CaptureFiles.RunIds(_folder).Where(run => !runs.Contains(run)))
        {
            if (ReadCapture(run) is { } capture && capture.ToPull() is null) _findings
                .Add(ArchiveText.CaptureWithoutHead(run, capture.Samples.Count));
        }

        foreach ((string aside, _) in CaptureFiles.Aside(_folder)) _findings.Add(ArchiveText.CaptureSetAside(aside));
    }

    private void LookAtTrace(JournalEntry entry)
    {
        CaptureContent? capture = ReadCapture(entry.Id);
        TraceContent? kept = _database?.Content(entry.Id);
        bool captureHolds = capture is not null && capture.Content.Checksum32() == entry.TraceChecksum;
        bool databaseHolds = (kept is null && entry.Samples == 0) || (kept is not null && kept.Checksum32() == entry.TraceChecksum);
        // A pull that was cut short ends in a torn block as a matter of course.
        bool whole = capture is not null
            && (capture.Whole || (capture.Head is not null && capture.DamagedBytes == 0 && capture.Trailer is null));
        if (_database is not null && !databaseHolds && (kept is not null || captureHolds)) _findings
            .Add(ArchiveText.DatabaseTrace(entry.Id, kept?.Samples.Count ?? 0, entry.Samples));
        if (captureHolds && whole) return;
        bool isOfCapture = captureHolds || (!databaseHolds && (capture?.Samples.Count ?? 0) >= (kept?.Samples.Count ?? 0));
        TraceContent best = (isOfCapture ? capture?.Content : kept) ?? TraceContent.Nothing;
        bool all = captureHolds || databaseHolds;
        _findings.Add(all ? ArchiveText.CaptureLacks(entry.Id, capture?.Samples.Count, entry.Samples)
            : ArchiveText.SamplesLost(entry.Id, best.Samples.Count, entry.Samples));
        if (best.Samples.Count == 0 || entry.Pull is null || (!all && isOfCapture)) return;
        PullRecord pull = RecordText.Read<PullRecord>(entry.Pull);
        _captures.Add(pull with { Trace = best.In(pull.Trace) });
    }

    private CaptureContent? ReadCapture(string run)
    {
        try
        {
            return CaptureFiles.Read(_folder, run);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            _findings.Add(ArchiveText.CaptureNotRead(run, e.Message));
            return null;
        }
    }
}
