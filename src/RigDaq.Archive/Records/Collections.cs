using LiteDB;

namespace RigDaq.Archive.Records;

/// <summary>The collections of the database, and the keys that they are asked by.</summary>
internal static class Collections
{
    public const string Meta = "meta";
    public const string Studies = "studies";

    /// <summary>Every version of every study.</summary>
    public const string Versions = "versions";

    /// <summary>The first schema that has them.</summary>
    public const int VersionsSince = 3;

    public const string Calibrations = "calibrations";

    /// <summary>Weights, check-weight readings, paused calibrations, what befell a cell, the study that is worked on, where one came from;
    /// the id begins with the kind.</summary>
    public const string Notes = "notes";

    /// <summary>The latest revision of each run.</summary>
    public const string Runs = "runs";

    /// <summary>Every revision of every run.</summary>
    public const string Revisions = "revisions";

    /// <summary>Each run's pull without its samples.</summary>
    public const string Pulls = "pulls";

    /// <summary>The samples, packed, in pieces: in a run's own document they would be dragged along by every list.</summary>
    public const string Traces = "traces";

    public const string Outbox = "outbox";

    public static void EnsureIndexes(ILiteDatabase database)
    {
        database.GetCollection(Runs).EnsureIndex("study", "$.study");
        database.GetCollection(Runs).EnsureIndex("started", "$.started");
        database.GetCollection(Revisions).EnsureIndex("run", "$.run");
        database.GetCollection(Traces).EnsureIndex("run", "$.run");
        database.GetCollection(Calibrations).EnsureIndex("device", "$.device");
        // A database of before is as it was until it is copied aside.
        if (JournalPosition.Read(database).Schema >= VersionsSince) database.GetCollection(Versions).EnsureIndex("study", "$.study");
    }
}
