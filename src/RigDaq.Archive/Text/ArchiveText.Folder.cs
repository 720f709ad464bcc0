namespace RigDaq.Archive.Text;

/// <content>Why a data folder cannot be used as it is, or failed in use.</content>
internal static partial class ArchiveText
{
    public const string BackupOntoItself = "A backup goes to another folder than the archive's own.";
    public const string DatabaseNotCommitted = "The database did not commit.";
    public const string DatabaseMissing = "is missing";

    public static string DatabaseTooShort(long bytes) => $"is only {bytes} bytes long";

    /// <param name="database">The file.</param>
    /// <param name="found"><see cref="DatabaseMissing"/> or <see cref="DatabaseTooShort"/>.</param>
    public static string DatabaseLost(string database, string found) =>
        $"The database '{database}' {found}, and the journal that it could be made from is missing too, yet the folder " +
        "was in use. Restore the folder from a backup, or choose an empty data folder. Nothing was changed.";

    public static string DatabaseFailed(string database, string fault) =>
        $"The database '{database}' could not be read or written: {fault.Replace("{0}", "", StringComparison.Ordinal).Trim()} It is opened again at the next call. " +
        "If this comes again, stop RigDaq, run 'rigdaq check --data', then 'rigdaq rebuild': it loses nothing that the folder still holds.";

    public static string DatabaseNotOpened(string database, string fault) =>
        $"The database '{database}' could not be opened: {fault} If the disk is well, move runs.db and runs-log.db " +
        "out of the folder and start again: they are made anew from the journal and the captures.";

    public static string FolderOpenToOthers(string folder) =>
        $"Every user of this machine can look into '{folder}', photos and all. If they are not to: chmod -R go= '{folder}'.";

    public static string FolderNotMade(string folder, string fault) => $"The data folder '{folder}' cannot be made: {fault} Choose another data folder.";

    public static string FolderNotAllowed(string folder) => $"The data folder '{folder}' may not be written by this user. Change its owner or choose another folder.";

    public static string FolderNotUsable(string folder, string fault) => $"The data folder '{folder}' cannot be used: {fault} Make it writable, or choose another.";

    public static string FolderInUse(string folder) => $"The data folder '{folder}' is in use by another RigDaq. Stop that one first, or choose another data folder.";

    public static string FolderNewer(string folder, int schema, int schemaKnown) =>
        $"The data folder '{folder}' was written by a newer RigDaq (schema {schema}; this one knows {schemaKnown}). " +
        "Use that version, or choose another data folder. Nothing was changed.";

    public static string FolderNotSetAside(string folder, long bytes, string fault) =>
        $"The data folder '{folder}' was written by an earlier RigDaq, and its files could not be copied aside first ({bytes / (1 << 20) + 1} MB): {fault} " +
        "Make room or make the folder writable, and start again. Nothing was changed.";

    public static string FolderNotOpened(string folder, int error) => $"The folder '{folder}' could not be opened (error {error}).";

    public static string FolderNotFlushed(string folder, int error) => $"The folder '{folder}' could not be flushed to the disk (error {error}).";

    public static string MarkerDamaged(string file) => $"'{file}' is damaged. If this RigDaq wrote the folder, delete that file and start again: it is made anew.";
}
