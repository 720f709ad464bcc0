using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Core.Calibration;
using RigDaq.Core.Compliance;
using RigDaq.Core.Runs;

namespace RigDaq.Archive;

/// <summary>The machines' compliances: notes of the journal, by device and id.</summary>
public sealed class ComplianceRepository
{
    private readonly ArchiveOwner _owner;
    private readonly CalibrationRepository _calibrations;
    private readonly RunRepository _runs;

    internal ComplianceRepository(ArchiveOwner owner, CalibrationRepository calibrations, RunRepository runs)
        => (_owner, _calibrations, _runs) = (owner, calibrations, runs);

    /// <summary>Keeps one; on the disk when this returns.</summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    public void Save(ComplianceRecord compliance)
    {
        RigArchive.CheckId(compliance.Id, "compliance");
        _owner.Commit(EntryOf(compliance, _owner.Time.GetUtcNow()));
    }

    /// <summary>Keeps the raw pulls that one is fitted from; before it, so that none stands without.</summary>
    /// <exception cref="IOException">They could not be kept.</exception>
    public void Save(string complianceId, BarPulls pulls)
    {
        RigArchive.CheckId(complianceId, "compliance");
        _owner.SaveNote(NoteKinds.BarPulls, complianceId, pulls);
    }

    /// <summary>One by its id, or null.</summary>
    public ComplianceRecord? Find(string complianceId) => OfDevice(null).FirstOrDefault(record => record.Id == complianceId);

    /// <summary>The raw pulls of a measured one, or null.</summary>
    public BarPulls? FindBarPulls(string complianceId) => _owner.Note<BarPulls>(NoteKinds.BarPulls, complianceId);

    /// <summary>A device's, oldest first; of all devices, where it is null.</summary>
    public IReadOnlyList<ComplianceRecord> OfDevice(string? deviceId)
        => _owner.Notes<ComplianceRecord>(NoteKinds.Compliance, deviceId is null ? "" : deviceId + "/");

    /// <summary>The one that goes with a run of a device; see <see cref="ComplianceInForce.At"/>.</summary>
    /// <param name="deviceId">The device.</param>
    /// <param name="started">When the run started.</param>
    /// <param name="calibrationId">The run's calibration; null for the one as it was measured.</param>
    public ComplianceRecord? InForceAt(string deviceId, DateTimeOffset started, string? calibrationId = null) =>
        ComplianceInForce.At(OfDevice(deviceId), started, calibrationId);

    /// <summary>The one that a run was read with, to read it with again; null where it was read without.</summary>
    public ComplianceRecord? ReadWith(Run run) => run.Reading?.ComplianceId is { } id ? Find(id) : null;

    /// <summary>
    /// A compliance as it goes with a calibration: itself where it was measured under that one, else as it was fitted again under it, now
    /// if need be; a new one is kept.
    /// </summary>
    /// <param name="compliance">The compliance, measured or fitted again.</param>
    /// <param name="calibration">The calibration that the forces are read by.</param>
    /// <param name="now">When.</param>
    /// <exception cref="RigDaq.Core.RefusalException">It cannot be had; the message says why and what to do.</exception>
    public ComplianceRecord Recomputed(ComplianceRecord compliance, CalibrationRecord calibration, DateTimeOffset now)
    {
        if (compliance.CalibrationId == calibration.Id) return compliance;
        IReadOnlyList<ComplianceRecord> all = OfDevice(compliance.DeviceId);
        ComplianceRecord measured = ComplianceInForce.MeasuredOf(compliance, all);
        if (measured.CalibrationId == calibration.Id) return measured;
        if (ComplianceInForce.Fitted(measured, calibration.Id, all) is { } fitted) return fitted;
        ComplianceRecord recomputed = ComplianceRefit.Under(
            measured, calibration, measured.CalibrationId is { } before ? _calibrations.Find(before) : null, FindBarPulls(measured.Id),
            measured.RunId is { } run ? _runs.FindPull(run) : null, now);
        Save(recomputed);
        return recomputed;
    }

    // Ids of one device sort by time.
    internal static JournalEntry EntryOf(ComplianceRecord compliance, DateTimeOffset at) =>
        Entries.Note(NoteKinds.Compliance, $"{compliance.DeviceId}/{compliance.Id}", compliance, at);
}
