using RigDaq.Archive.Records;
using RigDaq.Core.Strength;

namespace RigDaq.Archive;

/// <content>The machines' compliances: notes of the journal, by device and id.</content>
public sealed partial class RigArchive : IComplianceArchive
{
    private const string Compliance = "compliance", BarPullsKind = "bar-pulls";

    /// <inheritdoc/>
    public void Save(ComplianceRecord compliance)
    {
        CheckId(compliance.Id, "compliance");
        // Ids of one device sort by time.
        SaveNote(Compliance, $"{compliance.DeviceId}/{compliance.Id}", compliance);
    }

    /// <inheritdoc/>
    public void Save(string complianceId, BarPulls pulls)
    {
        CheckId(complianceId, "compliance");
        SaveNote(BarPullsKind, complianceId, pulls);
    }

    /// <inheritdoc/>
    public BarPulls? FindBarPulls(string complianceId) => FindRecord<BarPulls>(Collections.Notes, NoteId(BarPullsKind, complianceId));

    /// <inheritdoc/>
    public ComplianceRecord? FindCompliance(string complianceId) => Notes<ComplianceRecord>(Compliance, "").FirstOrDefault(record => record.Id == complianceId);

    /// <inheritdoc/>
    public IReadOnlyList<ComplianceRecord> Compliances(string? deviceId) => Notes<ComplianceRecord>(Compliance, deviceId is null ? "" : deviceId + "/");
}
