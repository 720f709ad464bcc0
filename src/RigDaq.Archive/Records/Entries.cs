using RigDaq.Archive.Journaling;
using RigDaq.Archive.Storage;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Records;

/// <summary>Records as the entries that keep them.</summary>
internal static class Entries
{
    public static JournalEntry Study(Study study, string reason, DateTimeOffset at) =>
        new() { At = at, Kind = EntryKind.Study, Id = study.Id, Reason = reason, Record = RecordText.Of(study) };

    public static JournalEntry Calibration(CalibrationRecord calibration, DateTimeOffset at) =>
        new() { At = at, Kind = EntryKind.Calibration, Id = calibration.Id, Record = RecordText.Of(calibration) };

    public static JournalEntry Note<T>(string kind, string name, T note, DateTimeOffset at) =>
        new() { At = at, Kind = EntryKind.Note, Id = NoteKinds.IdOf(kind, name), Record = RecordText.Of(note) };

    /// <summary>A run's first version with its pull.</summary>
    public static JournalEntry Run(Run run, PullRecord pull, int samples, uint traceChecksum, IReadOnlyList<OutboxMessage> messages,
        DateTimeOffset at) => new()
        {
            At = at,
            Kind = EntryKind.Run,
            Id = run.Head.RunId,
            Record = RecordText.Of(run),
            Pull = RecordText.WithoutSamples(pull),
            Samples = samples,
            TraceChecksum = traceChecksum,
            Messages = messages,
        };

    public static JournalEntry Revision(Run run, IReadOnlyList<OutboxMessage> messages, DateTimeOffset at) => new()
    {
        At = at,
        Kind = EntryKind.Revision,
        Id = run.Head.RunId,
        Reason = run.RevisionReason,
        Record = RecordText.Of(run),
        Messages = messages,
    };
}
