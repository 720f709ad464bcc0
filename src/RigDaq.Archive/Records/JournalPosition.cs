using LiteDB;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Records;

/// <summary>How far the database has come; changed in the same transaction as what it speaks of.</summary>
/// <param name="Schema">The version of the documents.</param>
/// <param name="JournalNumber">The last entry of the journal that is in here.</param>
/// <param name="JournalLength">The journal's length with it.</param>
/// <param name="OutboxNumber">The last number that a waiting message got; never given twice.</param>
internal sealed record JournalPosition(int Schema, long JournalNumber, long JournalLength, long OutboxNumber)
{
    private const string Id = "progress";

    /// <summary>The length of the packed part of the journal with it.</summary>
    public long PackedLength { get; init; }

    public static JournalPosition Read(ILiteDatabase database)
    {
        BsonDocument? document = database.GetCollection(Collections.Meta).FindById(Id);
        return document is null
            ? new JournalPosition(CreatedMarker.CurrentSchema, 0, 0, 0)
            : ChecksummedDocument.Read<JournalPosition>(document, Collections.Meta);
    }

    public void Write(ILiteDatabase database) =>
        database.GetCollection(Collections.Meta).Upsert(ChecksummedDocument.Text(Id, RecordText.Of(this)));
}
