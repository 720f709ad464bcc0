using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;

namespace RigDaq.Core.Calibration.Recording;

/// <summary>The mass that is read before work.</summary>
/// <param name="DeviceId">The device, as 16 hexadecimal digits.</param>
/// <param name="Reference">Its force where the rig stands.</param>
public sealed record CheckWeightPlan(string DeviceId, ReferenceForce Reference);

/// <summary>
/// What is kept about the force besides the calibrations: the weights that a person owns, a guided calibration that was paused,
/// the readings of the check weight, and what happened to cells and amplifiers. What is saved is on the disk when a call returns.
/// </summary>
public interface ICalibrationDiary
{
    /// <summary>Keeps a set of weights under its name; an earlier one of the same name is replaced (the journal keeps it).</summary>
    void Save(WeightSet weights);

    /// <summary>All sets, by name.</summary>
    IReadOnlyList<WeightSet> WeightSets();

    /// <summary>Keeps a guided calibration of a device, to be resumed.</summary>
    void Save(string deviceId, GuideState guide);

    /// <summary>The guided calibration of a device that was last kept, or null.</summary>
    GuideState? FindGuide(string deviceId);

    /// <summary>Sets a device's check weight.</summary>
    void Save(CheckWeightPlan plan);

    /// <summary>A device's check weight, or null.</summary>
    CheckWeightPlan? FindCheckWeight(string deviceId);

    /// <summary>Adds a reading of a device's check weight.</summary>
    void Add(string deviceId, CheckWeightReading reading);

    /// <summary>A device's readings, oldest first.</summary>
    IReadOnlyList<CheckWeightReading> CheckWeightReadings(string deviceId);

    /// <summary>Notes something that ends calibrations.</summary>
    void Add(CalibrationInvalidation happened);

    /// <summary>All that was noted of a device, oldest first.</summary>
    IReadOnlyList<CalibrationInvalidation> Invalidations(string deviceId);
}
