using LiteDB;
using Microsoft.Extensions.Logging;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Recovery;
using RigDaq.Archive.Text;

namespace RigDaq.Archive;

/// <summary>An entry that is to be kept.</summary>
/// <param name="Entry">The entry; its number is given when it is kept.</param>
/// <param name="Pieces">The packed trace of a run's first version; empty for others.</param>
internal sealed record PlannedEntry(JournalEntry Entry, IReadOnlyList<byte[]> Pieces);

/// <content>
/// How an entry becomes part of the database: proved, applied, written to the journal, then committed. What cannot be read back or cannot
/// be applied reaches neither; what the journal has and the database missed is applied at the next call.
/// </content>
internal sealed partial class ArchiveOwner
{
    /// <summary>Keeps an entry whatever is kept already.</summary>
    /// <inheritdoc cref="Commit(Func{ILiteDatabase, JournalEntry?}, IReadOnlyList{byte[]})"/>
    public void Commit(JournalEntry entry) => Commit(_ => entry, []);

    /// <summary>Keeps what <paramref name="decide"/> makes of the present state; null changes nothing.</summary>
    /// <param name="decide">Looks at the database and gives the entry, or throws because it contradicts what is kept.</param>
    /// <param name="pieces">The packed trace of a run's first version.</param>
    /// <exception cref="IOException">It could not be kept, or it is not known; the message says which.</exception>
    /// <exception cref="ArchiveConflictException">It contradicts what is kept.</exception>
    public void Commit(Func<ILiteDatabase, JournalEntry?> decide, IReadOnlyList<byte[]> pieces) =>
        Commit(database => decide(database) is { } entry ? [new PlannedEntry(entry, pieces)] : []);

    /// <summary>Keeps all of what <paramref name="decide"/> makes of the present state, or none of it.</summary>
    /// <inheritdoc cref="Commit(Func{ILiteDatabase, JournalEntry?}, IReadOnlyList{byte[]})"/>
    public void Commit(Func<ILiteDatabase, IReadOnlyList<PlannedEntry>> decide)
    {
        lock (_gate)
        {
            RefuseUnlessOpen();
            if (_behind) CatchUp(publish: true);
            IReadOnlyList<PlannedEntry> planned = _database.Read(decide);
            if (planned.Count == 0) return;
            PlannedEntry[] numbered = Numbered(planned);
            bool journalled = false;
            // A line whose flush failed may be in the file all the same: then it is kept, and the next call finds it.
            _behind = true;
            try
            {
                Keep(numbered, () => Journal(numbered, ref journalled), publish: true, durable: true);
            }
            catch (JournalFailedException e)
            {
                throw new IOException(e.Written ? ArchiveText.JournalNotFlushed(Folder.Journal, e.Message)
                    : ArchiveText.JournalNotWritten(Folder.Journal, e.Message), e);
            }
            catch (IOException e) when (journalled)
            {
                throw new IOException(ArchiveText.InJournalOnly(e.Message), e);
            }

            _behind = false;
            PackWhenLong();
        }
    }

    // What was kept is kept, whatever comes of this. After a failure it is left alone until the next start.
    private void PackWhenLong()
    {
        // What a write that failed has left at its end is ended by the next one.
        if (!_packs || _journal.Length < _packAtBytes || _journal.EndingAt(_journal.Length) is null) return;
        _packs = false;
        try
        {
            _packs = _packing.Run();
            if (_packs) SetJournalLength();
            else _logger.LogWarning("The journal '{Path}' is long, and was not packed: it has lines that do not follow one another. `rigdaq check --data` says more.", Folder.Journal);
        }
        catch (Exception e)
        {
            // Whatever it was: the journal is whole, and what became of the two files is looked at by the next call.
            _behind = true;
            _logger.LogWarning(e, "The journal '{Path}' is long and could not be packed; it is tried again at the next start.",
                Folder.Journal);
        }
    }

    private long Journal(PlannedEntry[] planned, ref bool journalled)
    {
        long length = _journal.Append(planned.Select(plan => plan.Entry));
        journalled = true;
        return length;
    }

    private PlannedEntry[] Numbered(IReadOnlyList<PlannedEntry> planned)
    {
        long last = _lastNumber + planned.Count;
        PlannedEntry[] numbered = [.. planned.Select((plan, i) => plan with
        {
            Entry = plan.Entry with { Number = _lastNumber + i + 1, Batch = planned.Count > 1 ? last : null },
        })];
        foreach (PlannedEntry plan in numbered)
        {
            if (Unreadable(plan.Entry) is { } fault) throw new ArchiveException(ArchiveText.RecordNotKept(plan.Entry.Kind.ToString(),
                plan.Entry.Id, fault));
        }

        _lastNumber = last;
        return numbered;
    }

    // Read back as the next start would.
    private static string? Unreadable(JournalEntry entry)
    {
        string line = System.Text.Encoding.UTF8.GetString(JournalLine.Of(entry)).TrimEnd('\n');
        return JournalLine.Parse(line) is { } read && read with { Messages = entry.Messages } == entry ? EntryProof.Fault(entry)
            : ArchiveText.RecordNotReadBack;
    }

    private void CatchUp(bool publish)
    {
        JournalPosition position = _database.Read(JournalPosition.Read);
        _lastNumber = Math.Max(_lastNumber, position.JournalNumber);
        bool shortened = _packed.Length < position.PackedLength
            || (_journal.Length < position.JournalLength && _packed.LastNumber() < position.JournalNumber);
        int done = 0;
        foreach (JournalEntry entry in IsWhereItWas(position) ? _journal.Read(position.JournalLength, SayDamaged)
            : WholeJournal.Entries(Folder, SayDamaged, after: position.JournalNumber))
        {
            if (entry.Number <= position.JournalNumber) continue;
            _lastNumber = Math.Max(_lastNumber, entry.Number);
            if (DoAgain(entry, position.JournalLength, publish)) done++;
        }

        if (done > 0) _logger.LogWarning("{Count} entries of the journal were not in the database and are now.", done);
        if (shortened) Rewrite();
        SetJournalLength();
        WaitingMessages = _database.Read(database => database.GetCollection(Collections.Outbox).Count());
        _behind = false;
    }

    // Where another journal was put beside the database, or it was packed, a line may not end where one ended, or be another one.
    private bool IsWhereItWas(JournalPosition position) => _packed.Length == position.PackedLength
        && (position.JournalLength == 0 || _journal.EndingAt(position.JournalLength)?.Number <= position.JournalNumber);

    // An entry that an earlier version let pass and that cannot be done costs itself and nothing else.
    private bool DoAgain(JournalEntry entry, long length, bool publish)
    {
        string? fault = EntryProof.Fault(entry);
        if (fault is null)
        {
            try
            {
                Keep([new PlannedEntry(entry, TraceOf(entry))], () => length, publish, durable: false);
                return true;
            }
            catch (EntryNotApplicableException e)
            {
                fault = e.Message;
            }
        }

        _logger.LogError("Entry {Number} of the journal, {Kind} {Id}, was left out: {Fault}", entry.Number, entry.Kind, entry.Id, fault);
        return false;
    }

    private void Keep(IReadOnlyList<PlannedEntry> planned, Func<long> journalLength, bool publish, bool durable)
    {
        int dropped = 0, added = publish ? planned.Sum(plan => plan.Entry.Messages.Count) : 0;
        _database.Write(
            database =>
            {
                JournalPosition position = JournalPosition.Read(database);
                long outboxNumber = position.OutboxNumber;
                foreach (PlannedEntry plan in planned)
                {
                    Apply(database, plan);
                    if (publish && plan.Entry.Messages.Count > 0) outboxNumber = OutboxRows.Add(database, plan.Entry.Messages,
                        outboxNumber);
                }

                if (added > 0 && WaitingMessages + added > OutboxRows.Limit) dropped = OutboxRows.Trim(database, OutboxRows.Limit);
                (position with { JournalNumber = planned[^1].Entry.Number, JournalLength = journalLength(), OutboxNumber = outboxNumber })
                    .Write(database);
            },
            durable);
        WaitingMessages += added - dropped;
        if (dropped > 0) _logger.LogWarning("{Count} of the oldest messages were given up: no broker has taken any for long.", dropped);
    }

    private static void Apply(ILiteDatabase database, PlannedEntry plan)
    {
        try
        {
            RecordWriter.Apply(database, plan.Entry, plan.Pieces);
        }
        catch (Exception e) when (e is LiteException { InnerException: not IOException } or System.Text.Json.JsonException
            or ArgumentException or NullReferenceException)
        {
            throw new EntryNotApplicableException(ArchiveText.RecordNotKept(plan.Entry.Kind.ToString(), plan.Entry.Id, e.Message), e);
        }
    }

    private List<byte[]> TraceOf(JournalEntry entry)
    {
        if (entry.Kind != EntryKind.Run) return [];
        CaptureContent? capture = Captures.Read(entry.Id);
        if (capture is null)
        {
            _logger.LogError("Run {Run} is in the journal, but its capture is missing: it is kept without its trace.", entry.Id);
            return [];
        }

        if (capture.Content.Checksum32() != entry.TraceChecksum)
        {
            _logger.LogError(
                "The capture of run {Run} is not what was stored: {Found} of {Stored} samples could be read.",
                entry.Id, capture.Samples.Count, entry.Samples);
        }

        return capture.Content.Pack();
    }

    // The journal was cut or lost: what only the database holds is written to it again, so that it can be rebuilt once more.
    private void Rewrite()
    {
        var database = new DatabaseSource(_database.Read);
        var join = new Join(Folder, JournalSource.Read(Folder), database, Time.GetUtcNow());
        _logger.LogError(
            "The journal '{Path}' is shorter than it was. {Count} records that only the database holds are written to it again; what other records than studies and runs were before may be lost.",
            Folder.Journal, join.Additions.Count);
        if (join.Additions.Count > 0) _journal.Append(join.Additions.Select(entry => entry with { Number = ++_lastNumber }));
    }

    private void SetJournalLength()
    {
        (long length, long packed) = (_journal.Length, _packed.Length);
        if (_database.Read(JournalPosition.Read) is { } position
            && (position.JournalLength, position.PackedLength, position.JournalNumber) == (length, packed, _lastNumber)) return;
        _database.Write(database => (JournalPosition.Read(database) with
        {
            JournalNumber = _lastNumber,
            JournalLength = length,
            PackedLength = packed,
        }).Write(database));
    }

    private void SayDamaged(JournalLine line) =>
        _logger.LogError("Line {Line} of the part of the journal that was read is damaged and was left out. It names: {About}", line.Number,
            line.About);
}
