using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;

namespace RigDaq.App.Calibrations;

/// <summary>Finds the calibration that a device is read by.</summary>
internal static class DeviceCalibration
{
    /// <summary>The calibration in force, or null: the newest that is neither too old nor made invalid since.</summary>
    public static CalibrationRecord? InForce(RigArchive archive, string deviceId, TimeProvider time) =>
        CalibrationValidity.InForce(archive.Calibrations.OfDevice(deviceId), time.GetUtcNow(), new CurrentRig(deviceId),
            archive.Diary.Invalidations(deviceId));
}
