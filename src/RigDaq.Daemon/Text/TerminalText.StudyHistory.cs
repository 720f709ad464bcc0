namespace RigDaq.Daemon.Text;

/// <content>The versions of a study and of its runs, and the way back to one.</content>
internal static partial class TerminalText
{
    public const string StudyHistoryCommand = "Every version of a study, or of a run, with its time and reason.";
    public const string StudyHistorySpecimen = "The revisions of this specimen's run instead.";
    public const string StudyHistoryPulled = "pulled";
    public const string StudyBackCommand = "Brings an earlier version of a study or a run back, as a further one.";
    public const string StudyBackVersion = "The version to bring back, as `study history` counts.";
    public const string StudyBackSpecimen = "A revision of this specimen's run instead.";
    public const string StudyBackReason = "Why, in a few words; kept with it.";

    public static string StudyRunHasNoRevision(string study, string specimen, int number) =>
        $"The run of {specimen} has no revision {number}; see `rigdaq study history {study} --specimen {specimen}`.";

    public static string StudyHasNoVersion(string study, int number, int versions) => $"The study {study} has no version {number}; it has {versions}.";
}
