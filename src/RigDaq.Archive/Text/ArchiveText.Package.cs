namespace RigDaq.Archive.Text;

/// <content>A data package: what it is, its files besides the tables, and why one cannot be written.</content>
internal static partial class ArchiveText
{
    public const string PackageDescription = "Tensile strengths of printed specimens: every run with its raw trace, sections, calibrations, groups and comparisons.";
    public const string FileStudy = "The study as RigDaq keeps it";
    public const string FileVersions = "Every version of the study, one a line: prints and specimens where they differ from the line before";
    public const string FileRuns = "Every revision of every run as RigDaq keeps it, one a line";
    public const string FilePulls = "What was known of each pull besides its samples, one a line";
    public const string FileCalibrations = "The calibrations as RigDaq keeps them, one a line";
    public const string FileCheckWeights = "The check weights as RigDaq keeps them, one a line";
    public const string FileCompliances = "The machines' own give as RigDaq keeps it, one a line";

    public static string FilePhoto(string owner) => $"Photo of {owner}";

    public static string PackageFolderNotEmpty(string folder) => $"The folder '{folder}' is not empty. Choose a new one: nothing is overwritten.";

    public static string PackageNoStudy(string study, IReadOnlyList<string> known) =>
        $"There is no study '{study}'. There are: {(known.Count == 0 ? "none" : string.Join(", ", known))}.";
}
