using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Core.Compliance;

namespace RigDaq.Archive;

/// <content>The machines' compliances: notes of the journal, by device and id.</content>
public sealed partial class RigArchive : IComplianceArchive
{
    /// <inheritdoc/>
    public void Save(ComplianceRecord compliance)
    {
        CheckId(compliance.Id, "compliance");
        Commit(EntryOf(compliance, _owner.Time.GetUtcNow()));
    }

    // Ids of one device sort by time.
    internal static JournalEntry EntryOf(ComplianceRecord compliance, DateTimeOffset at) =>
        Entries.Note(NoteKinds.Compliance, $"{compliance.DeviceId}/{compliance.Id}", compliance, at);

    /// <inheritdoc/>
    public void Save(string complianceId, BarPulls pulls)
    {
        CheckId(complianceId, "compliance");
        SaveNote(NoteKinds.BarPulls, complianceId, pulls);
    }

    /// <inheritdoc/>
    public BarPulls? FindBarPulls(string complianceId)
        => FindRecord<BarPulls>(Collections.Notes, NoteKinds.IdOf(NoteKinds.BarPulls, complianceId));

    /// <inheritdoc/>
    public ComplianceRecord? FindCompliance(string complianceId)
        => Notes<ComplianceRecord>(NoteKinds.Compliance, "").FirstOrDefault(record => record.Id == complianceId);

    /// <inheritdoc/>
    public IReadOnlyList<ComplianceRecord> Compliances(string? deviceId)
        => Notes<ComplianceRecord>(NoteKinds.Compliance, deviceId is null ? "" : deviceId + "/");
}
