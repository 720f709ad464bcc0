using LiteDB;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Strength;

namespace RigDaq.Archive.Records;

/// <summary>
/// The one way in which an entry of the journal becomes documents, whether it has just happened or is done again; and the
/// way back. Doing an entry twice is doing it once.
/// </summary>
internal static class Keeping
{
    public static void Apply(ILiteDatabase database, JournalEntry entry, IReadOnlyList<byte[]> pieces)
    {
        switch (entry.Kind)
        {
            case EntryKind.Study:
                BsonDocument study = Sealed.Text(entry.Id, entry.Record);
                database.GetCollection(Collections.Studies).Upsert(study);
                break;
            case EntryKind.Calibration:
                BsonDocument calibration = Sealed.Text(entry.Id, entry.Record);
                calibration["device"] = RecordText.Read<CalibrationRecord>(entry.Record).DeviceId;
                database.GetCollection(Collections.Calibrations).Upsert(calibration);
                break;
            case EntryKind.Note:
                database.GetCollection(Collections.Notes).Upsert(Sealed.Text(entry.Id, entry.Record));
                break;
            case EntryKind.Run:
            case EntryKind.Revision:
                RunRows.Put(database, RecordText.Read<Run>(entry.Record), entry.Record);
                if (entry.Pull is not null) RunRows.PutPull(database, entry.Id, entry.Pull, pieces);
                break;
            default:
                throw new ArchiveException(ArchiveText.EntryUnknown(entry.Kind.ToString()));
        }
    }

    /// <summary>Everything that the database holds, as entries that would make it again.</summary>
    public static List<JournalEntry> Everything(ILiteDatabase database, DateTimeOffset now)
    {
        var entries = new List<JournalEntry>();
        foreach (BsonDocument document in database.GetCollection(Collections.Calibrations).FindAll())
        {
            entries.Add(Entry(EntryKind.Calibration, document["_id"].AsString, Sealed.ReadText(document, Collections.Calibrations), now));
        }

        foreach (BsonDocument document in database.GetCollection(Collections.Studies).FindAll())
        {
            entries.Add(Entry(EntryKind.Study, document["_id"].AsString, Sealed.ReadText(document, Collections.Studies), now));
        }

        foreach (BsonDocument document in database.GetCollection(Collections.Notes).FindAll())
        {
            entries.Add(Entry(EntryKind.Note, document["_id"].AsString, Sealed.ReadText(document, Collections.Notes), now));
        }

        foreach (BsonDocument document in database.GetCollection(Collections.Revisions).FindAll()
            .OrderBy(document => document["run"].AsString, StringComparer.Ordinal).ThenBy(document => document["revision"].AsInt32))
        {
            string runId = document["run"].AsString;
            JournalEntry entry = Entry(EntryKind.Revision, runId, Sealed.ReadText(document, Collections.Revisions), now);
            entries.Add(document["revision"].AsInt32 == 0 ? WithPull(database, entry) : entry);
        }

        return entries;
    }

    private static JournalEntry WithPull(ILiteDatabase database, JournalEntry entry)
    {
        BsonDocument? document = database.GetCollection(Collections.Pulls).FindById(entry.Id);
        PullRecord? pull = RunRows.FindPull(database, entry.Id);
        return document is null || pull is null ? entry : entry with
        {
            Kind = EntryKind.Run,
            Pull = Sealed.ReadText(document, Collections.Pulls),
            Samples = pull.Trace.Samples.Count,
            TraceChecksum = RunRows.ChecksumOf(pull.Trace.Samples),
        };
    }

    private static JournalEntry Entry(EntryKind kind, string id, string record, DateTimeOffset now) =>
        new() { At = now, Kind = kind, Id = id, Record = record, Reason = ArchiveText.WrittenAgain };
}
