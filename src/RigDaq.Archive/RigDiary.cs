using RigDaq.Archive.Records;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Callers;
using RigDaq.Core.Safety;

namespace RigDaq.Archive;

/// <summary>
/// What is kept about a rig besides the calibrations: the weights that a person owns, a guided calibration that was paused, the
/// readings of the check weight, what happened to cells and amplifiers, and the tests of its safety functions. What is saved is on the disk
/// when a call returns.
/// </summary>
public sealed class RigDiary : ISafetyDiary
{
    // A folder is one rig's.
    private const string Rig = "rig";

    private readonly ArchiveOwner _owner;

    internal RigDiary(ArchiveOwner owner) => _owner = owner;

    /// <summary>Keeps a set of weights under its name; an earlier one of the same name is replaced (the journal keeps it).</summary>
    public void Save(WeightSet weights)
    {
        RigArchive.CheckId(weights.Name, "set of weights");
        _owner.SaveNote(NoteKinds.Weights, weights.Name, weights);
    }

    /// <summary>All sets, by name.</summary>
    public IReadOnlyList<WeightSet> WeightSets() => _owner.Notes<WeightSet>(NoteKinds.Weights, "");

    /// <summary>Keeps a guided calibration of a device, to be resumed.</summary>
    public void Save(string deviceId, GuideState guide) => _owner.SaveNote(NoteKinds.Guide, deviceId, guide);

    /// <summary>The guided calibration of a device that was last kept, or null.</summary>
    public GuideState? FindGuide(string deviceId) => _owner.Note<GuideState>(NoteKinds.Guide, deviceId);

    /// <summary>Sets a device's check weight.</summary>
    public void Save(CheckWeightPlan plan) => _owner.SaveNote(NoteKinds.CheckWeight, plan.DeviceId, plan);

    /// <summary>A device's check weight, or null.</summary>
    public CheckWeightPlan? FindCheckWeight(string deviceId) => _owner.Note<CheckWeightPlan>(NoteKinds.CheckWeight, deviceId);

    /// <summary>Adds a reading of a device's check weight.</summary>
    public void Add(string deviceId, CheckWeightReading reading)
        => _owner.SaveNote(NoteKinds.CheckReading, NoteKinds.ByTime(deviceId, reading.At), reading);

    /// <summary>A device's readings, oldest first.</summary>
    public IReadOnlyList<CheckWeightReading> CheckWeightReadings(string deviceId)
        => _owner.Notes<CheckWeightReading>(NoteKinds.CheckReading, deviceId + "/");

    /// <summary>Notes something that ends calibrations.</summary>
    public void Add(CalibrationInvalidation happened)
        => _owner.SaveNote(NoteKinds.Invalidation, NoteKinds.ByTime(happened.DeviceId, happened.At), happened);

    /// <summary>All that was noted of a device, oldest first.</summary>
    public IReadOnlyList<CalibrationInvalidation> Invalidations(string deviceId)
        => _owner.Notes<CalibrationInvalidation>(NoteKinds.Invalidation, deviceId + "/");

    /// <summary>Adds something that happened.</summary>
    public void Add(Happening happening) => _owner.SaveNote(NoteKinds.Happening, NoteKinds.ByTime(Rig, happening.At), happening);

    /// <summary>What happened from one moment to before another, the latest first.</summary>
    /// <param name="from">The first moment.</param>
    /// <param name="to">The moment after the last.</param>
    /// <param name="most">So much at most; of more the earliest is left out.</param>
    public IReadOnlyList<Happening> Happenings(DateTimeOffset from, DateTimeOffset to, int most)
        => _owner.NotesBetween<Happening>(NoteKinds.Happening, NoteKinds.ByTime(Rig, from), NoteKinds.ByTime(Rig, to), most);

    /// <inheritdoc/>
    public void Add(EmergencyStopTest test) => _owner.SaveNote(NoteKinds.StopTest, NoteKinds.ByTime(test.DeviceId, test.At), test);

    /// <inheritdoc/>
    public IReadOnlyList<EmergencyStopTest> EmergencyStopTests(string deviceId)
        => _owner.Notes<EmergencyStopTest>(NoteKinds.StopTest, deviceId + "/");

    /// <inheritdoc/>
    public void Add(FirstStartTest test) => _owner.SaveNote(NoteKinds.FirstStart, NoteKinds.ByTime(test.DeviceId, test.At), test);

    /// <inheritdoc/>
    public IReadOnlyList<FirstStartTest> FirstStarts(string deviceId) => _owner.Notes<FirstStartTest>(NoteKinds.FirstStart, deviceId + "/");
}
