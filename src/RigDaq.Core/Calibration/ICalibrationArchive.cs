namespace RigDaq.Core.Calibration;

/// <summary>Where calibrations are kept.</summary>
public interface ICalibrationArchive
{
    /// <summary>Keeps a calibration; on the disk when this returns.</summary>
    void Save(CalibrationRecord calibration);

    /// <summary>A calibration by its id, or null.</summary>
    CalibrationRecord? Find(string calibrationId);

    /// <summary>All of a device, newest first.</summary>
    IReadOnlyList<CalibrationRecord> OfDevice(string deviceId);
}
