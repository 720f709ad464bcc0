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

    public static string PhotoOfRun(string run) => $"run {run}";

    public static string PhotoOfStudy(string study) => $"a print of the study {study}";

    public static string PhotoMissing(string photo, string owner, string folder) =>
        $"The photo {photo} of {owner} is missing from '{folder}'. Take it back from a backup.";

    public static string PhotoChanged(string photo, string owner, string folder) =>
        $"The photo {photo} of {owner} in '{folder}' is not the one that was kept: its checksum differs. Take it back from a backup.";

    public static string RecordDamaged(string id, string collection) =>
        $"The record {id} in '{collection}' of the database is damaged: its checksum does not match. " +
        "Stop RigDaq and run 'rigdaq rebuild': it takes the record from the journal and the captures, and says what it took from where.";

    public static string RecordNotReadable(string kind, string collection, string id, string fault) =>
        $"A {kind} in '{collection}' ({id}) cannot be read by this version: {fault}";

    public static string PrintIncomplete(string print) => $"The print {print} lacks its material, its condition or its stretches.";

    public static string RecordEmpty(string kind) => $"An empty {kind}.";

    public static string RebuildWithoutJournal(string journal) =>
        $"'{journal}' is missing, and there is no database to be read in its place: studies, calibrations and corrections cannot be made anew. Take the folder back from a backup. Nothing was changed.";
}
