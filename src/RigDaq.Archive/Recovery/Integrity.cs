using LiteDB;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Records;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Recovery;

/// <summary>Reads everything in a folder once and says what is damaged.</summary>
internal static class Integrity
{
    public static void Check(ArchiveOwner owner, List<string> findings)
    {
        foreach (string collection in new[] { Collections.Studies, Collections.Calibrations, Collections.Notes, Collections.Runs, Collections.Revisions, Collections.Pulls })
        {
            foreach (BsonValue id in Ids(owner, collection)) Try(owner, findings, collection, id, document => Sealed.ReadText(document, collection));
        }

        foreach (string collection in new[] { Collections.Traces, Collections.Outbox })
        {
            foreach (BsonValue id in Ids(owner, collection)) Try(owner, findings, collection, id, document => Sealed.ReadBytes(document, collection));
        }

        owner.JournalEntries(line => findings.Add(ArchiveText.JournalLineDamaged(line.Number, owner.Folder.Journal)));
        foreach (string runId in owner.Captures.RunIds())
        {
            CaptureContent? capture = owner.Captures.Read(runId);
            if (capture is null || capture.Whole) continue;
            // A pull that was cut short ends in a torn block as a matter of course.
            if (capture.Head is not null && capture.DamagedBytes == 0 && capture.Trailer is null) continue;
            findings.Add(ArchiveText.CaptureDamaged(runId, capture.DamagedBytes + capture.TornBytes));
        }
    }

    private static List<BsonValue> Ids(ArchiveOwner owner, string collection) =>
        owner.Read(database => database.GetCollection(collection).Query().Select("$._id").ToList().ConvertAll(document => document["_id"]));

    private static void Try(ArchiveOwner owner, List<string> findings, string collection, BsonValue id, Action<BsonDocument> read)
    {
        try
        {
            owner.Read(database =>
            {
                if (database.GetCollection(collection).FindById(id) is { } document) read(document);
                return 0;
            });
        }
        catch (IOException e)
        {
            findings.Add(e.Message);
        }
    }
}
