using LiteDB;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Records;

/// <summary>What waits to be published, by rising number.</summary>
internal static class OutboxRows
{
    /// <summary>With a broker away for long, the oldest messages beyond this go; their runs stay and can be published again.</summary>
    public const int Limit = 100_000;

    private const string TopicField = "topic";
    private const string RetainField = "retain";
    private const string ReachedField = "reached";

    /// <returns>The last number given.</returns>
    public static long Add(ILiteDatabase database, IReadOnlyList<OutboxMessage> messages, long lastNumber)
    {
        ILiteCollection<BsonDocument> rows = database.GetCollection(Collections.Outbox);
        foreach (OutboxMessage message in messages)
        {
            BsonDocument row = ChecksummedDocument.Bytes(++lastNumber, message.Payload);
            row[TopicField] = message.Topic;
            row[RetainField] = message.Retain;
            rows.Insert(row);
        }

        return lastNumber;
    }

    /// <summary>Deletes the oldest beyond the limit.</summary>
    /// <returns>How many went.</returns>
    public static int Trim(ILiteDatabase database, int limit)
    {
        ILiteCollection<BsonDocument> rows = database.GetCollection(Collections.Outbox);
        int over = rows.Count() - limit;
        if (over <= 0) return 0;
        foreach (BsonValue id in rows.Find(Query.All(), 0, over).Select(row => row["_id"]).ToList()) rows.Delete(id);
        return over;
    }

    public static List<(long Number, OutboxMessage Message)> Oldest(ILiteDatabase database, int count) =>
        [.. database.GetCollection(Collections.Outbox)
            .Find(Query.All(), 0, count)
            .Select(row => (row["_id"].AsInt64, Message(row)))];

    /// <summary>Notes who has a message by now.</summary>
    public static void Reach(ILiteDatabase database, long number, IEnumerable<string> addressees)
    {
        ILiteCollection<BsonDocument> rows = database.GetCollection(Collections.Outbox);
        if (rows.FindById(number) is not { } row) return;
        row[ReachedField] = new BsonArray(addressees.Select(name => new BsonValue(name)));
        rows.Update(row);
    }

    /// <summary>Who has what waits for others.</summary>
    public static Dictionary<long, IReadOnlyList<string>> Reached(ILiteDatabase database) =>
        database.GetCollection(Collections.Outbox).FindAll().Where(row => row[ReachedField].IsArray)
            .ToDictionary(row => row["_id"].AsInt64,
                row => (IReadOnlyList<string>)[.. row[ReachedField].AsArray.Where(name => name.IsString).Select(name => name.AsString)]);

    public static OutboxMessage Message(BsonDocument row)
        => new(row[TopicField].AsString, ChecksummedDocument.ReadBytes(row, Collections.Outbox), row[RetainField].AsBoolean);
}
