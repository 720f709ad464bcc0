using System.Globalization;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Callers;
using RigDaq.Core.Compliance;
using RigDaq.Core.Safety;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Records;

/// <summary>The kinds of notes; a note's id begins with its kind. One that a later version added is kept as it is.</summary>
internal static class NoteKinds
{
    public const string Weights = "weights", Guide = "guide", CheckWeight = "check-weight", CheckReading = "check-reading",
        Invalidation = "invalidation";
    public const string Compliance = "compliance", BarPulls = "bar-pulls", Work = "work", Origin = "origin",
        StopTest = "emergency-stop-test", FirstStart = "first-start", Happening = "happening";

    private static readonly Dictionary<string, Type> Types = new(StringComparer.Ordinal)
    {
        [Weights] = typeof(WeightSet),
        [Guide] = typeof(GuideState),
        [CheckWeight] = typeof(CheckWeightPlan),
        [CheckReading] = typeof(CheckWeightReading),
        [Invalidation] = typeof(CalibrationInvalidation),
        [Compliance] = typeof(ComplianceRecord),
        [BarPulls] = typeof(BarPulls),
        [StopTest] = typeof(EmergencyStopTest),
        [FirstStart] = typeof(FirstStartTest),
        [Origin] = typeof(StudyOrigin),
        [Happening] = typeof(Happening),
    };

    /// <summary>A name that sorts by time as text; two notes of one device in one tick are the same note.</summary>
    public static string ByTime(string deviceId, DateTimeOffset at)
        => string.Create(CultureInfo.InvariantCulture, $"{deviceId}/{at.UtcTicks:D20}");

    public static string IdOf(string kind, string name) => $"{kind}/{name}";

    /// <summary>What a note's text is read as; null where this version does not know its kind.</summary>
    public static Type? TypeOf(string id) => Types.GetValueOrDefault(id.Split('/')[0]);
}
