namespace RigDaq.Archive.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class ArchiveText
{
    // Why a data folder cannot be used as it is, or failed in use.

    public static string DatabaseFailed(string database, string fault) =>
        DatabaseFailedText(database, Plain(fault));

    public static string DatabaseDamaged(string folder, string database, string fault) =>
        DatabaseDamagedText(database, Plain(fault), folder);

    public static string DatabaseNotOpened(string folder, string database, string fault) =>
        DatabaseNotOpenedText(database, Plain(fault), folder);

    // The library leaves places for figures open, and ends some sentences.
    private static string Plain(string fault) => fault.Replace("{0}", "", StringComparison.Ordinal).Trim().TrimEnd('.', ':');

    public static string FolderNotSetAside(string folder, long bytes, string fault) =>
        FolderNotSetAsideText(folder, bytes / (1 << 20), 1, fault);

    // Why a data package cannot be read in.

    public static string ImportId(string id, int charactersMax) => ImportIdText(charactersMax, id.Length);

    public static string ImportDoesNotFollow(string specimen, string run, double? said, double? follows) =>
        ImportDoesNotFollowText(specimen, run, Megapascals(said), Megapascals(follows));

    // What is found where journal, captures and database are held against each other. Each says where the record is to be had.

    public static string JournalLineDamaged(int line, string journal, string about) =>
        JournalLineDamagedText(line, journal, about.Length > 0, about);

    public static string DatabaseNotRead(string database, string fault) => DatabaseNotReadText(database, Plain(fault));

    // A data package: what it is, its files besides the tables, and why one cannot be written.

    public static string PackageNoStudy(string study, IReadOnlyList<string> known) =>
        PackageNoStudyText(study, known.Count > 0, known);

    // Why a run, its capture or another record cannot be kept, and what is noted where the archive acted by itself.

    public static string RunOtherContent(string run) => OtherContent(RunOtherContentPartText(run));

    public static string RevisionOtherContent(string run, int revision) => OtherContent(RevisionOtherContentPartText(revision, run));

    public static string RevisionOutOfTurn(string run, int latest, int revision) =>
        RevisionOutOfTurnText(run, latest, 1, revision);
}
