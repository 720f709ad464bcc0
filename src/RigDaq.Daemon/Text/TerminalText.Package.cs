using System.Globalization;

namespace RigDaq.Daemon.Text;

/// <content>Studies that leave and come: data packages, pictures, reports, backups, the database made anew.</content>
internal static partial class TerminalText
{
    public const string ExportCommand = "Write a study as a data package that other programs read.";
    public const string ExportOut = "A new or empty folder.";
    public const string ExportLicence = "The licence you pick for the data, by its SPDX name: CC0-1.0, CC-BY-4.0. Without one nobody else may use it.";
    public const string ExportTraces = "parquet (small) or csv (read by everything).";
    public const string ExportNoPhotos = "Leave the photos of broken pieces out.";
    public const string ExportWithoutLicence = "No licence was picked (--licence): others may look at the data, and little more.";

    public const string PicturesCommand = "Write a study's pictures for a page, for paper or for video.";
    public const string PicturesOut = "A folder; pictures of the same name are replaced.";
    public const string PicturesStyle = "page, paper, video (1920×1080, large type) or video-large (3840×2160).";
    public const string PicturesFormat = "svg or png.";
    public const string PicturesOnly = "Only the picture of this name, or all whose names begin with it: strength, change, retained. Once for each.";
    public const string PicturesTitle = "A title instead of the picture's own.";
    public const string PicturesRatio = "For a screen (16:9), an upright phone (9:16) or a square (1:1), with large type and a margin that players may cover.";
    public const string PicturesValues = "Write the values beside the means.";
    public const string PicturesBuildUp = "A series for a talk or a film that reveals one group after another; the axes stay.";
    public const string PicturesDark = "Light type on a dark ground.";
    public const string PicturesTransparent = "No ground at all, to be laid over something else.";

    public const string ImportCommand = "Read a data package that another RigDaq exported.";
    public const string ImportFolder = "A folder that `rigdaq export` wrote.";

    public const string ReportCommand = "Write a study's report.";

    public const string BackupCommand = "Copy a data folder whole, and verify the copy.";
    public const string BackupOut = "Where to; an earlier backup there is brought up to date.";

    public const string RebuildCommand = "Make the database anew from journal, captures and what the old one still holds; that is set aside, not deleted.";

    public static string ExportTracesNotKnown(string format) => $"--traces {format}: expected parquet or csv.";

    public static string ExportOutIsFile(string folder) => $"--out {folder}: that is a file; a new or empty folder was expected.";

    public static string ExportOutNotEmpty(string folder) => $"--out {folder}: the folder is not empty; choose a new one, nothing is overwritten.";

    public static string ExportPhotos(int photos, long bytes) =>
        string.Create(CultureInfo.InvariantCulture, $"{photos} photos went along, {bytes / 1e6:0.0} MB (--no-photos leaves them out).");

    public static string ExportCameraData(int photos) => $"{photos} of them carry what the camera wrote besides the picture, often the place where it was taken. Look before you publish.";

    public static string PicturesStyleNotKnown(string style, IEnumerable<string> styles) => $"--style {style}: expected {string.Join(", ", styles)}.";

    public static string PicturesFormatNotKnown(string format) => $"--format {format}: expected svg or png.";

    public static string PicturesRatioNotKnown(string ratio, IEnumerable<string> ratios) => $"--ratio {ratio}: expected {string.Join(", ", ratios)}.";

    public static string PicturesNoSuch(string name, IEnumerable<string> names) => $"--only {name}: there is no such picture. There are: {string.Join(", ", names)}.";

    public static string PicturesNone(string study) => $"{study} has no strengths yet, so there is nothing to draw.";

    public static string ImportFolderNotThere(string folder) => $"{folder}: there is no such folder.";

    public static string ImportDone(string study, int runs) => $"{study}: {runs} runs";

    public static string ImportNotWorkedOn(string study) => $"It is not worked on unless you say so: `rigdaq study work {study}`.";

    public static string BackupRefused(string folder, string refusal) => $"--out {folder}: {refusal}";

    public static string BackupDone(string folder, int runs, int damaged) => $"{folder}: {runs} runs, {(damaged == 0 ? "journal, captures and database agree" : $"{damaged} findings")}";

    public static string BackupBeforeKept(IReadOnlyList<string> files) => $"Because of this the files of the backup before are kept beside the new ones: {string.Join(", ", files)}.";

    public static string RebuildSetAside(IReadOnlyList<string> names) => names.Count == 0 ? "Nothing was set aside." : $"Set aside, not deleted: {string.Join(", ", names)}.";

    public static string RebuildDone(string folder, int studies, int calibrations, int runs, int recomputed, int damagedLines) =>
        $"{folder}: {studies} studies, {calibrations} calibrations, {runs} runs, of which {recomputed} were computed again; {damagedLines} damaged lines in the journal.";
}
