using LiteDB;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Storage;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Records;

/// <summary>Every version of every study as documents, <c>STUDY#number</c>, by the number of the entry that kept it.</summary>
internal static class VersionRows
{
    public static void Put(ILiteDatabase database, JournalEntry entry)
    {
        BsonDocument version = ChecksummedDocument.Text($"{entry.Id}#{entry.Number}", entry.Record).Because(entry.At, entry.Reason)
            .ByWhom(entry.By);
        version["study"] = entry.Id;
        version["number"] = entry.Number;
        database.GetCollection(Collections.Versions).Upsert(version);
    }

    /// <summary>The versions of one study, the first first.</summary>
    public static List<StudyVersion> Of(ILiteDatabase database, string studyId) =>
        [.. database.GetCollection(Collections.Versions).Find(Where.Is("study", studyId))
            .OrderBy(document => document["number"].AsInt64)
            .Select(EntryOf)
            // A journal that was numbered anew may have been done again.
            .DistinctBy(entry => (entry.At, entry.Record))
            .Select(entry => new StudyVersion(RecordText.Read<Study>(entry.Record), entry.Reason, entry.At, entry.By))];

    /// <summary>A version as the entry that would make it again, by its number.</summary>
    /// <exception cref="ArchiveException">It is damaged.</exception>
    public static JournalEntry EntryOf(BsonDocument document) => RecordWriter.EntryOf(EntryKind.Study, document, Collections.Versions) with
    {
        Id = document["study"].AsString,
        Number = document["number"].AsInt64,
    };
}
