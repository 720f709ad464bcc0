using System.Globalization;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Safety;

namespace RigDaq.Archive;

/// <content>What is kept about the force besides the calibrations.</content>
public sealed partial class RigArchive : ICalibrationDiary, ISafetyDiary
{
    private const string Weights = "weights", Guide = "guide", CheckPlan = "check-weight", CheckReading = "check-reading", Invalidation = "invalidation";

    private const string StopTest = "emergency-stop-test";

    /// <inheritdoc/>
    public void Save(WeightSet weights)
    {
        CheckId(weights.Name, "set of weights");
        SaveNote(Weights, weights.Name, weights);
    }

    /// <inheritdoc/>
    public IReadOnlyList<WeightSet> WeightSets() => Notes<WeightSet>(Weights, "");

    /// <inheritdoc/>
    public void Save(string deviceId, GuideState guide) => SaveNote(Guide, deviceId, guide);

    /// <inheritdoc/>
    public GuideState? FindGuide(string deviceId) => FindRecord<GuideState>(Collections.Notes, NoteId(Guide, deviceId));

    /// <inheritdoc/>
    public void Save(CheckWeightPlan plan) => SaveNote(CheckPlan, plan.DeviceId, plan);

    /// <inheritdoc/>
    public CheckWeightPlan? FindCheckWeight(string deviceId) => FindRecord<CheckWeightPlan>(Collections.Notes, NoteId(CheckPlan, deviceId));

    /// <inheritdoc/>
    public void Add(string deviceId, CheckWeightReading reading) => SaveNote(CheckReading, ByTime(deviceId, reading.At), reading);

    /// <inheritdoc/>
    public IReadOnlyList<CheckWeightReading> CheckWeightReadings(string deviceId) => Notes<CheckWeightReading>(CheckReading, deviceId + "/");

    /// <inheritdoc/>
    public void Add(CalibrationInvalidation happened) => SaveNote(Invalidation, ByTime(happened.DeviceId, happened.At), happened);

    /// <inheritdoc/>
    public IReadOnlyList<CalibrationInvalidation> Invalidations(string deviceId) => Notes<CalibrationInvalidation>(Invalidation, deviceId + "/");

    /// <inheritdoc/>
    public void Add(EmergencyStopTest test) => SaveNote(StopTest, ByTime(test.DeviceId, test.At), test);

    /// <inheritdoc/>
    public IReadOnlyList<EmergencyStopTest> EmergencyStopTests(string deviceId) => Notes<EmergencyStopTest>(StopTest, deviceId + "/");

    // Sorts by time as text; two notes of one device in one tick are the same note.
    private static string ByTime(string deviceId, DateTimeOffset at) => string.Create(CultureInfo.InvariantCulture, $"{deviceId}/{at.UtcTicks:D20}");

    private static string NoteId(string kind, string name) => $"{kind}/{name}";

    private void SaveNote<T>(string kind, string name, T note)
    {
        if (string.IsNullOrWhiteSpace(name)) throw new ArgumentException($"A note of kind {kind} needs a name.", nameof(name));
        Commit(EntryKind.Note, NoteId(kind, name), "", RecordText.Of(note));
    }

    private IReadOnlyList<T> Notes<T>(string kind, string prefix) => _owner.Read<IReadOnlyList<T>>(database =>
        [.. database.GetCollection(Collections.Notes).Find(LiteDB.Query.StartsWith("_id", NoteId(kind, prefix)))
            .OrderBy(document => document["_id"].AsString, StringComparer.Ordinal)
            .Select(document => Sealed.Read<T>(document, Collections.Notes))]);
}
