namespace RigDaq.Daemon.Text;

/// <content>A run of a study: left out of its group, moved to another specimen, read again.</content>
internal static partial class TerminalText
{
    public const string StudyVoidCommand = "Leaves a run out of its group, with a reason, or takes that back; the run stays.";
    public const string StudyVoidKind = "Why the run is left out.";
    public const string StudyVoidWords = "In your own words; kept with it.";
    public const string StudyVoidTakeBack = "Take the void back.";
    public const string StudyVoidKindWanted = "--kind: say why, by one of the short list (see --help).";

    public const string StudyMoveCommand = "Moves a run to the specimen that it was, with a reason; its strength follows that specimen's section.";
    public const string StudyMoveFrom = "The specimen that the run was pulled as.";
    public const string StudyMoveTo = "The specimen that it was.";
    public const string StudyMoveReason = "How that is known; kept with it.";

    public const string StudyRecomputeCommand = "Reads the runs under another calibration or machine compliance; the earlier revisions stay.";
    public const string StudyRecomputeCalibration = "The calibration's id; without it each run keeps its own.";
    public const string StudyRecomputeCompliance = "The machine compliance's id, or none; without it each run keeps its own, fitted again under the calibration.";
    public const string StudyRecomputeUnderWhat = "Name a --calibration, a --compliance, or both.";

    public static string StudyMoved(string from, string to) => $"moved from {from} to {to}";

    public static string StudyRecomputed(int runs, string? calibration, string? compliance) =>
        $"{runs} runs read again{(calibration is null ? "" : $" under the calibration {calibration}")}{(compliance is null ? "" : $" with the compliance {compliance}")}.";

    public static string StudyRecomputeNoCalibration(string id) => $"--calibration: there is no calibration {id}.";

    public static string StudyRecomputeNoCompliance(string id) => $"--compliance: there is no compliance {id}; rigdaq compliance list shows them.";

    public static string StudyRecomputeOtherDevice(string option, string? id, string device, string specimen, string specimensDevice) =>
        $"{option}: {id} is for the device {device}; the run of {specimen} was measured by {specimensDevice}.";
}
