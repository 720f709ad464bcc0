using System.Globalization;
using System.Text;
using LiteDB;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Callers;
using JsonException = System.Text.Json.JsonException;

namespace RigDaq.Archive.Records;

/// <summary>
/// Documents whose content carries a checksum that is verified whenever it is read: the database notices most flipped
/// bytes in its own structure and none in the content.
/// </summary>
internal static class ChecksummedDocument
{
    private const string TextField = "text";
    private const string BytesField = "bytes";
    private const string ChecksumField = "crc32c";
    private const string AtField = "at";
    private const string ReasonField = "reason";
    private const string WhyChecksumField = "crc32c_why";
    private const string ByField = "by";
    private const string ByChecksumField = "crc32c_by";

    /// <summary>A document that holds text; keys to ask by are added by the caller.</summary>
    public static BsonDocument Text(BsonValue id, string text) => new()
    {
        ["_id"] = id,
        [TextField] = text,
        [ChecksumField] = (long)Checksum.Of(Encoding.UTF8.GetBytes(text)),
    };

    /// <summary>The same with when and why it was kept: who has only the database has that, too.</summary>
    public static BsonDocument Because(this BsonDocument document, DateTimeOffset at, string reason)
    {
        (document[AtField], document[ReasonField]) = (at.ToString("O", CultureInfo.InvariantCulture), reason);
        document[WhyChecksumField] = WhyChecksum(document);
        return document;
    }

    /// <summary>The same with by whom.</summary>
    public static BsonDocument ByWhom(this BsonDocument document, By? by)
    {
        if (by is null) return document;
        document[ByField] = RecordText.Of(by);
        document[ByChecksumField] = (long)Checksum.Of(Encoding.UTF8.GetBytes(document[ByField].AsString));
        return document;
    }

    /// <summary>By whom it was kept; null where that was not kept with it or is damaged.</summary>
    public static By? Whom(BsonDocument document)
    {
        if (!document[ByField].IsString || !document[ByChecksumField].IsInt64
            || document[ByChecksumField].AsInt64 != Checksum.Of(Encoding.UTF8.GetBytes(document[ByField].AsString))) return null;
        return RecordText.Read<By>(document[ByField].AsString);
    }

    /// <summary>When and why it was kept; neither where that was not kept with it or is damaged.</summary>
    public static (DateTimeOffset At, string Reason) Why(BsonDocument document) =>
        document[WhyChecksumField].IsInt64 && document[AtField].IsString && document[ReasonField].IsString
            && document[WhyChecksumField].AsInt64 == WhyChecksum(document)
        && DateTimeOffset.TryParse(document[AtField].AsString, CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind,
            out DateTimeOffset at) ? (at, document[ReasonField].AsString) : (default, "");

    private static long WhyChecksum(BsonDocument document)
        => Checksum.Of(Encoding.UTF8.GetBytes(document[AtField].AsString), Encoding.UTF8.GetBytes(document[ReasonField].AsString));

    /// <summary>A document that holds bytes.</summary>
    public static BsonDocument Bytes(BsonValue id, byte[] bytes) => new()
    {
        ["_id"] = id,
        [BytesField] = bytes,
        [ChecksumField] = (long)Checksum.Of(bytes),
    };

    /// <summary>The text as it was kept.</summary>
    /// <exception cref="ArchiveException">It is not what was kept.</exception>
    public static string ReadText(BsonDocument document, string collection)
    {
        if (!document[TextField].IsString) throw Damaged(document, collection);
        string text = document[TextField].AsString;
        return Matches(document, Encoding.UTF8.GetBytes(text)) ? text : throw Damaged(document, collection);
    }

    /// <summary>The document of an id, or null. A damaged index may lead to another one.</summary>
    /// <exception cref="ArchiveException">It did.</exception>
    public static BsonDocument? Find(ILiteDatabase database, string collection, string id)
    {
        BsonDocument? document = database.GetCollection(collection).FindById(id);
        return document is null || document["_id"] == id ? document : throw new ArchiveException(ArchiveText.RecordDamaged(id, collection));
    }

    /// <summary>The bytes as they were kept.</summary>
    /// <exception cref="ArchiveException">They are not what was kept.</exception>
    public static byte[] ReadBytes(BsonDocument document, string collection)
    {
        if (!document[BytesField].IsBinary) throw Damaged(document, collection);
        byte[] bytes = document[BytesField].AsBinary;
        return Matches(document, bytes) ? bytes : throw Damaged(document, collection);
    }

    /// <summary>The record in the text.</summary>
    /// <exception cref="ArchiveException">The text is damaged or not such a record.</exception>
    public static T Read<T>(BsonDocument document, string collection)
    {
        string text = ReadText(document, collection);
        try
        {
            return RecordText.Read<T>(text);
        }
        catch (JsonException e)
        {
            throw new ArchiveException(ArchiveText.RecordNotReadable(typeof(T).Name, collection, $"{document["_id"]}", e.Message), e);
        }
    }

    private static bool Matches(BsonDocument document, byte[] content) =>
        document[ChecksumField].IsInt64 && document[ChecksumField].AsInt64 == Checksum.Of(content);

    private static ArchiveException Damaged(BsonDocument document, string collection)
        => new(ArchiveText.RecordDamaged($"{document["_id"]}", collection));
}
