namespace RigDaq.Archive.Text;

/// <content>What is found damaged or missing when everything is read once, and why nothing can be made anew.</content>
internal static partial class ArchiveText
{
    public const string SamplesLayoutUnknown = "Samples in an unknown layout.";
    public const string SamplesTooMany = "A count of samples beyond the data.";
    public const string SamplesTooLong = "Bytes after the last sample.";
    public const string SamplesNotUnpacked = "The samples cannot be unpacked.";
    public const string IntegerTooShort = "An integer runs over the end.";
    public const string IntegerTooLong = "An integer of more than 64 bits.";

    public static string JournalLineDamaged(int line, string journal) => $"Line {line} of the journal '{journal}' is damaged.";

    public static string CaptureDamaged(string run, long bytes) => $"The capture of run {run} is damaged: {bytes} bytes cannot be read.";

    public static string PhotoOfRun(string run) => $"run {run}";

    public static string PhotoOfStudy(string study) => $"a print of the study {study}";

    public static string PhotoMissing(string photo, string owner, string folder) =>
        $"The photo {photo} of {owner} is missing from '{folder}'. Take it back from a backup.";

    public static string PhotoChanged(string photo, string owner, string folder) =>
        $"The photo {photo} of {owner} in '{folder}' is not the one that was kept: its checksum differs. Take it back from a backup.";

    public static string RecordDamaged(string id, string collection) =>
        $"The record {id} in '{collection}' of the database is damaged: its checksum does not match. " +
        "The raw data is safe in the captures and the journal: rebuild the database from them.";

    public static string RecordNotReadable(string kind, string collection, string id, string fault) =>
        $"A {kind} in '{collection}' ({id}) cannot be read by this version: {fault}";

    public static string PrintIncomplete(string print) => $"The print {print} lacks its material, its condition or its stretches.";

    public static string RecordEmpty(string kind) => $"An empty {kind}.";

    public static string RebuildWithoutJournal(string journal) =>
        $"'{journal}' is missing: without it studies, calibrations and corrections cannot be made anew. Nothing was changed.";
}
