namespace RigDaq.Archive.Text;

/// <content>What is found where journal, captures and database are held against each other. Each says where the record is to be had.</content>
internal static partial class ArchiveText
{
    public static string JournalLineDamaged(int line, string journal, string about) =>
        $"Line {line} of the journal '{journal}' is damaged{(about.Length > 0 ? $"; it names {about}" : "; what it held cannot be told")}.";

    public static string JournalEntryUnusable(long number, string kind, string id, string fault) => $"Entry {number}, {kind} {id}, is left out: {fault}";

    public static string JournalLacks(string kind, string id) => $"The journal does not have {kind} {id}; the database has it, and a rebuild takes it from there.";

    public static string JournalLacksVersion(string kind, string id) =>
        $"The journal does not have {kind} {id} as the database does; a rebuild takes it from the database. Versions between may be lost.";

    public static string JournalLacksRevision(string run, int revision) =>
        $"The journal does not have revision {revision} of run {run}; the database has it, and a rebuild takes it from there.";

    public static string DatabaseIsBehind(string kind, string id) => $"The database has an earlier version of {kind} {id} than the journal; a rebuild takes the journal's.";

    public static string DatabaseLacks(string kind, string id) => $"The database does not have {kind} {id}; the journal has it, and a rebuild takes it from there.";

    public static string DatabaseLacksRevision(string run, int revision) =>
        $"The database does not have revision {revision} of run {run}; the journal has it, and a rebuild takes it from there.";

    public static string DatabaseLacksPull(string run) => $"The database does not have what was known of the pull of run {run} as the journal does; a rebuild takes the journal's.";

    public static string DatabaseTrace(string run, int found, int stored) =>
        $"The database has {found} of the {stored} samples of run {run}, or others; a rebuild takes them from the capture.";

    public static string DatabaseNotRead(string database, string fault) => $"The database '{database}' cannot be read: {Plain(fault)}. A rebuild makes it anew from the journal and the captures.";

    public static string DatabaseNotThere(string database) => $"The database '{database}' is missing; it is made anew from the journal and the captures at the next start.";

    public static string JournalNotThere(string journal) => $"The journal '{journal}' is missing or empty; it is written again from the database.";

    public static string CollectionNotRead(string collection, string fault) => $"The records in '{collection}' of the database cannot be listed: {fault}";

    public static string RevisionDiffers(string run, int revision) =>
        $"Journal and database have different contents for revision {revision} of run {run}; a rebuild takes the journal's and sets the database aside.";

    public static string CaptureLacks(string run, int? found, int stored) =>
        $"The capture of run {run} is {(found is { } count ? $"damaged ({count} of {stored} samples)" : "missing")}; all its samples are had, and a rebuild writes a capture of them.";

    public static string SamplesLost(string run, int found, int stored) =>
        $"Run {run} has lost samples: {found} of {stored} are left in its capture and the database. Take its capture back from a backup.";

    public static string CaptureWithoutHead(string run, int samples) =>
        $"The capture of {run} has no readable head, so no run can be made of its {samples} samples. Look at it by hand.";

    public static string CaptureSetAside(string file) => $"'{file}' was set aside because no run can be computed from it; a rebuild tries again.";

    public static string CaptureNotRead(string run, string fault) => $"The capture of run {run} cannot be read: {fault}";

    public static string FirstVersionComputed(string run) => $"The first version of run {run} was lost; it was computed again from its capture.";

    public static string CaptureNotComputed(string run, string fault, string file) => $"No run can be computed from the capture of {run}: {fault} It is kept as '{file}'.";

    public static string WaitingNotKnown(string database) =>
        $"What waited to be published could not be read from '{database}': results of the last minutes may not have been published.";
}
