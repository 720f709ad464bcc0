using RigDaq.Archive.Records;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Recording;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Safety;

namespace RigDaq.Archive;

/// <content>What is kept about the force besides the calibrations.</content>
public sealed partial class RigArchive : ICalibrationDiary, ISafetyDiary
{
    /// <inheritdoc/>
    public void Save(WeightSet weights)
    {
        CheckId(weights.Name, "set of weights");
        SaveNote(NoteKinds.Weights, weights.Name, weights);
    }

    /// <inheritdoc/>
    public IReadOnlyList<WeightSet> WeightSets() => Notes<WeightSet>(NoteKinds.Weights, "");

    /// <inheritdoc/>
    public void Save(string deviceId, GuideState guide) => SaveNote(NoteKinds.Guide, deviceId, guide);

    /// <inheritdoc/>
    public GuideState? FindGuide(string deviceId) => FindRecord<GuideState>(Collections.Notes, NoteKinds.IdOf(NoteKinds.Guide, deviceId));

    /// <inheritdoc/>
    public void Save(CheckWeightPlan plan) => SaveNote(NoteKinds.CheckWeight, plan.DeviceId, plan);

    /// <inheritdoc/>
    public CheckWeightPlan? FindCheckWeight(string deviceId)
        => FindRecord<CheckWeightPlan>(Collections.Notes, NoteKinds.IdOf(NoteKinds.CheckWeight, deviceId));

    /// <inheritdoc/>
    public void Add(string deviceId, CheckWeightReading reading)
        => SaveNote(NoteKinds.CheckReading, NoteKinds.ByTime(deviceId, reading.At), reading);

    /// <inheritdoc/>
    public IReadOnlyList<CheckWeightReading> CheckWeightReadings(string deviceId)
        => Notes<CheckWeightReading>(NoteKinds.CheckReading, deviceId + "/");

    /// <inheritdoc/>
    public void Add(CalibrationInvalidation happened)
        => SaveNote(NoteKinds.Invalidation, NoteKinds.ByTime(happened.DeviceId, happened.At), happened);

    /// <inheritdoc/>
    public IReadOnlyList<CalibrationInvalidation> Invalidations(string deviceId)
        => Notes<CalibrationInvalidation>(NoteKinds.Invalidation, deviceId + "/");

    /// <inheritdoc/>
    public void Add(EmergencyStopTest test) => SaveNote(NoteKinds.StopTest, NoteKinds.ByTime(test.DeviceId, test.At), test);

    /// <inheritdoc/>
    public IReadOnlyList<EmergencyStopTest> EmergencyStopTests(string deviceId)
        => Notes<EmergencyStopTest>(NoteKinds.StopTest, deviceId + "/");

    /// <inheritdoc/>
    public void Add(FirstStartTest test) => SaveNote(NoteKinds.FirstStart, NoteKinds.ByTime(test.DeviceId, test.At), test);

    /// <inheritdoc/>
    public IReadOnlyList<FirstStartTest> FirstStarts(string deviceId) => Notes<FirstStartTest>(NoteKinds.FirstStart, deviceId + "/");

    private void SaveNote<T>(string kind, string name, T note)
    {
        if (string.IsNullOrWhiteSpace(name)) throw new ArgumentException($"A note of kind {kind} needs a name.", nameof(name));
        Commit(Entries.Note(kind, name, note, _owner.Time.GetUtcNow()));
    }

    private IReadOnlyList<T> Notes<T>(string kind, string prefix) => _owner.Read<IReadOnlyList<T>>(database =>
        [.. database.GetCollection(Collections.Notes).Find(Where.Begins("_id", NoteKinds.IdOf(kind, prefix)))
            .OrderBy(document => document["_id"].AsString, StringComparer.Ordinal)
            .Select(document => Sealed.Read<T>(document, Collections.Notes))]);
}
