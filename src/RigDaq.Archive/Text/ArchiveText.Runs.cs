namespace RigDaq.Archive.Text;

/// <content>Why a run, its capture or another record cannot be kept, and what is noted where the archive acted by itself.</content>
internal static partial class ArchiveText
{
    public const string WrittenAgain = "written again after the journal was lost";

    public static string RunOtherContent(string run) => OtherContent($"Run {run}");

    public static string RevisionOtherContent(string run, int revision) => OtherContent($"Revision {revision} of run {run}");

    public static string RunNotThere(string run) => $"Run {run} is not in the archive: there is nothing to revise.";

    public static string RevisionOutOfTurn(string run, int latest, int revision) =>
        $"Run {run} is at revision {latest}: the next is {latest + 1}, not {revision}. Read it again first.";

    public static string EntryUnknown(string kind) => $"An entry of an unknown kind, {kind}.";

    public const string RecordNotReadBack = "it is not read back as it was written.";

    public static string RecordNotKept(string kind, string id, string fault) => $"{kind} {id} cannot be kept: {fault} Nothing was changed.";

    public static string RecordNull(string place) => $"{place} is missing or null.";

    public static string RecordNotFinite(string place) => $"{place} is no finite number.";

    public static string RecordNoSuchWord(string place, string word) => $"{place}: {word} is none of the words that stand there.";

    public static string RecordOtherId(string id, string entryId) => $"it is the record of '{id}', not of '{entryId}'.";

    public static string RecordKeyLength(int bytesMax) => $"its id, or that of its study or device, is empty or longer than {bytesMax} bytes.";

    public static string JournalNotWritten(string journal, string fault) => $"The journal '{journal}' could not be written: {fault} Nothing was changed.";

    public static string JournalNotFlushed(string journal, string fault) =>
        $"The journal '{journal}' could not be brought to the disk: {fault} It is not known whether the change is kept: look before you make it again.";

    public static string InJournalOnly(string fault) => $"{fault} The change stands in the journal; the database gets it from there at the next call.";

    public static string CaptureThereAlready(string run, string file) => $"A capture of run {run} exists already: '{file}'.";

    public static string CaptureBeingWritten(string run) => $"A capture of run {run} is being written.";

    public static string CaptureDiskFull(string folder, long freeMegabytes, long neededMegabytes) =>
        $"The disk of '{folder}' has {freeMegabytes} MB left; a pull needs {neededMegabytes} MB. Make room, then go on.";

    public static string CaptureCutOff(string path) =>
        $"The capture '{path}' ends in the middle of a write that failed; nothing more is written to it. Look at the disk.";

    public static string CaptureCutShort(int samples) => $"The program or the machine ended in mid-pull; {samples} samples were kept.";

    private static string OtherContent(string what) => $"{what} is kept already with another content. Corrections are added as revisions.";
}
