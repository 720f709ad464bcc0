using RigDaq.Archive.Records;
using RigDaq.Core.Calibration;
using RigDaq.Core.Callers;

namespace RigDaq.Archive;

/// <summary>The calibrations.</summary>
public sealed class CalibrationRepository
{
    private readonly ArchiveOwner _owner;

    internal CalibrationRepository(ArchiveOwner owner) => _owner = owner;

    /// <summary>Keeps a calibration; on the disk when this returns.</summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    public void Save(CalibrationRecord calibration)
    {
        RigArchive.CheckId(calibration.Id, "calibration");
        By? who = _owner.Who();
        _owner.Commit(Entries.Calibration(calibration with { By = who ?? calibration.By }, _owner.Time.GetUtcNow()) with { By = who });
    }

    /// <summary>A calibration by its id, or null.</summary>
    public CalibrationRecord? Find(string calibrationId) => _owner.FindRecord<CalibrationRecord>(Collections.Calibrations, calibrationId);

    /// <summary>All of a device, newest first.</summary>
    public IReadOnlyList<CalibrationRecord> OfDevice(string deviceId) => _owner.Read<IReadOnlyList<CalibrationRecord>>(database =>
        [.. database.GetCollection(Collections.Calibrations).Find(Where.Is("device", deviceId))
            .Select(document => ChecksummedDocument.Read<CalibrationRecord>(document, Collections.Calibrations))
            .OrderByDescending(calibration => calibration.AcceptedAt)
            .ThenByDescending(calibration => calibration.Id, StringComparer.Ordinal)]);
}
