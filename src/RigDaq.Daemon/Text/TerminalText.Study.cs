namespace RigDaq.Daemon.Text;

/// <content>What the commands of a study have in common.</content>
internal static partial class TerminalText
{
    public const string StudyCommand = "Makes, shows, changes and lists studies.";
    public const string StudyId = "The study's id.";
    public const string StudySpecimen = "The specimen's label.";
    public const string StudyReasonWanted = "--reason: say in a few words why; it is kept with the change.";
    public const string StudyNoneYet = "There are no studies yet; make one with `rigdaq study make`.";
    public const string StudyBasis = "Which section a strength is divided by.";

    public static string FolderOfEarlierVersion(IReadOnlyList<string> copies) =>
        $"The data folder was written by an earlier RigDaq and is of this one's now. What it was is kept aside: {string.Join(", ", copies)}.";

    public static string StudyNotThere(string id, IReadOnlyList<string> known) =>
        $"There is no study {id}. {(known.Count == 0 ? StudyNoneYet : $"There are: {string.Join(", ", known)}.")}";

    public static string StudyHasNoSpecimen(string study, string specimen) => $"The study {study} has no specimen {specimen}.";

    public static string StudyHasNoRunOf(string study, string specimen) => $"The study {study} has no run of a specimen {specimen}.";

    public static string StudyRunRevised(string specimen, int revision, string reason) => $"{specimen}: revision {revision}, {reason}";
}
