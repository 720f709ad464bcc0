using System.Text;
using System.Text.Json;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Records;

/// <summary>
/// Whether an entry of the journal can be done: that what it holds is read as what it is, whole, under the id that it names. Asked before
/// an entry is written, and again before one that was found is done.
/// </summary>
internal static class EntryProof
{
    /// <summary>LiteDB's limit for what it finds documents by is 1,023 bytes, its own head included; our keys add a few of ours.</summary>
    private const int KeyBytesMax = 900;

    /// <summary>What is wrong, in words; null for nothing.</summary>
    public static string? Fault(JournalEntry entry)
    {
        try
        {
            return entry.Kind switch
            {
                EntryKind.Study => Fault(entry, RecordText.Read<Study>(entry.Record), study => study.Id),
                EntryKind.Calibration
                    => Fault(entry, RecordText.Read<CalibrationRecord>(entry.Record), calibration => calibration.Id,
                    calibration => calibration.DeviceId),
                EntryKind.Run or EntryKind.Revision
                    => Fault(entry, RecordText.Read<Run>(entry.Record), run => run.Head.RunId, run => run.Head.StudyId) ?? PullFault(entry),
                EntryKind.Note => NoteFault(entry),
                _ => ArchiveText.EntryUnknown(entry.Kind.ToString()),
            };
        }
        catch (Exception e) when (e is JsonException or NotSupportedException or ArgumentException or InvalidOperationException
            or OverflowException)
        {
            return e.Message;
        }
    }

    private static string? PullFault(JournalEntry entry) =>
        entry.Pull is null ? null : Fault(entry, RecordText.Read<PullRecord>(entry.Pull), pull => pull.Head.RunId);

    private static string? NoteFault(JournalEntry entry)
    {
        if (NoteKinds.TypeOf(entry.Id) is not { } type)
        {
            using JsonDocument any = JsonDocument.Parse(entry.Record);
            return TooLong(entry.Id);
        }

        object note = JsonSerializer.Deserialize(entry.Record, type, RecordText.Options)
            ?? throw new JsonException(ArchiveText.RecordEmpty(type.Name));
        return RecordProof.Fault(note, finite: false) ?? TooLong(entry.Id);
    }

    private static string? Fault<T>(JournalEntry entry, T record, params Func<T, string>[] keys)
        where T : class
    {
        if (RecordProof.Fault(record, finite: false) is { } fault) return fault;
        if (keys[0](record) is var id && id != entry.Id) return ArchiveText.RecordOtherId(id, entry.Id);
        return keys.Select(key => TooLong(key(record))).FirstOrDefault(found => found is not null);
    }

    private static string? TooLong(string key) => Encoding.UTF8.GetByteCount(key) is > 0 and <= KeyBytesMax ? null
        : ArchiveText.RecordKeyLength(KeyBytesMax);
}
