using LiteDB;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Records;

/// <summary>
/// The one way in which an entry of the journal becomes documents, whether it has just happened or is done again; and the
/// way back. Doing an entry twice is doing it once.
/// </summary>
internal static class RecordWriter
{
    public static void Apply(ILiteDatabase database, JournalEntry entry, IReadOnlyList<byte[]> pieces)
    {
        switch (entry.Kind)
        {
            case EntryKind.Study:
                database.GetCollection(Collections.Studies).Upsert(DocumentOf(entry));
                VersionRows.Put(database, entry);
                break;
            case EntryKind.Calibration:
                BsonDocument calibration = DocumentOf(entry);
                calibration["device"] = RecordText.Read<CalibrationRecord>(entry.Record).DeviceId;
                database.GetCollection(Collections.Calibrations).Upsert(calibration);
                break;
            case EntryKind.Note:
                database.GetCollection(Collections.Notes).Upsert(DocumentOf(entry));
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

    private static BsonDocument DocumentOf(JournalEntry entry)
        => ChecksummedDocument.Text(entry.Id, entry.Record).Because(entry.At, entry.Reason).ByWhom(entry.By);

    /// <summary>A document of a record of which the latest counts, as the entry that would make it again.</summary>
    /// <exception cref="ArchiveException">It is damaged.</exception>
    public static JournalEntry EntryOf(EntryKind kind, BsonDocument document, string collection)
    {
        (DateTimeOffset at, string reason) = ChecksummedDocument.Why(document);
        return new JournalEntry
        {
            At = at,
            Kind = kind,
            Id = document["_id"].AsString,
            Record = ChecksummedDocument.ReadText(document, collection),
            Reason = at == default ? ArchiveText.WrittenAgain : reason,
            By = ChecksummedDocument.Whom(document),
        };
    }
}
