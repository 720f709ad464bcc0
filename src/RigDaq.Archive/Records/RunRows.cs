using LiteDB;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Records;

/// <summary>Runs, their revisions, their pulls and traces as documents.</summary>
internal static class RunRows
{
    private const string PiecesField = "pieces";

    public static void Put(ILiteDatabase database, Run run, string text)
    {
        string runId = run.Head.RunId;
        BsonDocument revision = ChecksummedDocument.Text($"{runId}#{run.Revision}", text);
        revision["run"] = runId;
        revision["revision"] = run.Revision;
        database.GetCollection(Collections.Revisions).Upsert(revision);

        // Revisions may be done again in any order: the latest is the one of the highest number.
        ILiteCollection<BsonDocument> runs = database.GetCollection(Collections.Runs);
        if (runs.FindById(runId) is { } kept && kept["revision"].AsInt32 > run.Revision) return;
        BsonDocument latest = ChecksummedDocument.Text(runId, text);
        latest["study"] = run.Head.StudyId;
        latest["revision"] = run.Revision;
        latest["started"] = run.Head.StartedAt.UtcTicks;
        runs.Upsert(latest);
    }

    public static void PutPull(ILiteDatabase database, string runId, string pullText, IReadOnlyList<byte[]> packedPieces)
    {
        BsonDocument pull = ChecksummedDocument.Text(runId, pullText);
        pull[PiecesField] = packedPieces.Count;
        database.GetCollection(Collections.Pulls).Upsert(pull);
        ILiteCollection<BsonDocument> traces = database.GetCollection(Collections.Traces);
        for (int i = 0; i < packedPieces.Count; i++)
        {
            BsonDocument piece = ChecksummedDocument.Bytes($"{runId}/{i}", packedPieces[i]);
            piece["run"] = runId;
            piece["piece"] = i;
            traces.Upsert(piece);
        }
    }

    public static bool Exists(ILiteDatabase database, string runId) =>
        database.GetCollection(Collections.Runs).Exists(Where.Is("_id", runId));

    public static Run? Find(ILiteDatabase database, string runId)
    {
        BsonDocument? document = ChecksummedDocument.Find(database, Collections.Runs, runId);
        return document is null ? null : ChecksummedDocument.Read<Run>(document, Collections.Runs);
    }

    /// <summary>The text of one revision, or null.</summary>
    public static string? Text(ILiteDatabase database, string runId, int revision)
    {
        BsonDocument? document = ChecksummedDocument.Find(database, Collections.Revisions, $"{runId}#{revision}");
        return document is null ? null : ChecksummedDocument.ReadText(document, Collections.Revisions);
    }

    public static List<Run> Revisions(ILiteDatabase database, string runId) =>
        [.. database.GetCollection(Collections.Revisions).Find(Where.Is("run", runId))
            .OrderBy(document => document["revision"].AsInt32)
            .Select(document => ChecksummedDocument.Read<Run>(document, Collections.Revisions))];

    public static List<Run> OfStudy(ILiteDatabase database, string studyId) =>
        [.. database.GetCollection(Collections.Runs).Find(Where.Is("study", studyId))
            .OrderBy(document => document["started"].AsInt64).ThenBy(document => document["_id"].AsString, StringComparer.Ordinal)
            .Select(document => ChecksummedDocument.Read<Run>(document, Collections.Runs))];

    public static List<Run> Latest(ILiteDatabase database, int count) =>
        [.. database.GetCollection(Collections.Runs).Find(Query.All("started", Query.Descending), 0, count)
            .Select(document => ChecksummedDocument.Read<Run>(document, Collections.Runs))];

    public static PullRecord? FindPull(ILiteDatabase database, string runId)
    {
        BsonDocument? document = ChecksummedDocument.Find(database, Collections.Pulls, runId);
        if (document is null) return null;
        PullRecord pull = ChecksummedDocument.Read<PullRecord>(document, Collections.Pulls);
        return pull with { Trace = Content(database, runId, document).In(pull.Trace) };
    }

    /// <summary>The raw values of a run.</summary>
    /// <exception cref="ArchiveException">Some of them are damaged, or the database does not find them.</exception>
    public static TraceContent Content(ILiteDatabase database, string runId) =>
        Content(database, runId, ChecksummedDocument.Find(database, Collections.Pulls, runId));

    private static TraceContent Content(ILiteDatabase database, string runId, BsonDocument? pull)
    {
        List<BsonDocument> pieces = [.. database.GetCollection(Collections.Traces).Find(Where.Is("run", runId))
            .OrderBy(piece => piece["piece"].AsInt32)];
        // A damaged index finds too few of them without a word. What was kept before the pieces were counted has no count.
        bool isCounted = pull is not null && pull.ContainsKey(PiecesField);
        if ((isCounted && pull![PiecesField] != pieces.Count) || pieces.Where((piece, at) => piece["_id"] != $"{runId}/{at}").Any())
            throw new ArchiveException(ArchiveText.TraceIncomplete(runId));
        return TraceContent.Of(pieces.Select(piece => ChecksummedDocument.ReadBytes(piece, Collections.Traces)));
    }
}
