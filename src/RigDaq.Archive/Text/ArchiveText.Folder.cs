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
        $"The database '{database}' could not be read or written: {Plain(fault)}. It is opened again at the next call. Look whether the disk is full or fails.";

    public static string DatabaseDamaged(string folder, string database, string fault) =>
        $"The database '{database}' is damaged ({Plain(fault)}). {Remedy(folder)}";

    public static string DatabaseNotOpened(string folder, string database, string fault) =>
        $"The database '{database}' could not be opened ({Plain(fault)}). {Remedy(folder)}";

    public static string DatabaseNotAllowed(string database) =>
        $"The database '{database}' may not be read and written by this user. Stop RigDaq, give the file to this user (chown, chmod u+rw) and start again.";

    private static string Remedy(string folder) =>
        $"Stop RigDaq, run 'rigdaq rebuild --data {folder}' and start again: it makes the database anew from the journal, the captures and what can still be read, " +
        "and keeps the damaged file under another name.";

    // The library leaves places for figures open, and ends some sentences.
    private static string Plain(string fault) => fault.Replace("{0}", "", StringComparison.Ordinal).Trim().TrimEnd('.', ':');

    public static string FolderOpenToOthers(string folder) =>
        $"Other users of this machine may look into '{folder}' or into files of it. If they are not to: chmod -R go= '{folder}'.";

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
