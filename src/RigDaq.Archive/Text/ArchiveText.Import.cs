namespace RigDaq.Archive.Text;

/// <content>Why a data package cannot be read in.</content>
internal static partial class ArchiveText
{
    public const string ImportTracesHeader = "The header is not that of traces.csv.";
    public const string ImportRowGroup = "A row group does not hold exactly one run.";

    public static string ImportNoPackage(string file, string folder) => $"'{file}' is missing: '{folder}' is no data package.";

    public static string ImportNotJson(string file, string fault) => $"'{file}' is not JSON: {fault}";

    public static string ImportNotOurs(string file) => $"'{file}' was not written by RigDaq: its key rigdaqSchema is missing.";

    public static string ImportNewer(string file, int schema, int schemaKnown) =>
        $"'{file}' was written by a newer RigDaq (schema {schema}; this one knows {schemaKnown}). Use that version.";

    public static string ImportResourceWithoutHash(string file) => $"'{file}' names a resource without a plain path and a hash.";

    public static string ImportFileMissing(string file) => $"'{file}' is missing from the package.";

    public static string ImportFileChanged(string file) => $"'{file}' is not the file that was written: its checksum differs. Get the package again.";

    public static string ImportLine(string file, int line, string fault) => $"'{file}', line {line}: {fault}";

    public static string ImportVersionsEndElsewhere(string versionsFile, string studyFile) => $"'{versionsFile}' does not end with the study of '{studyFile}'.";

    public static string ImportVersionOfNoSpecimen(int specimen, int specimens) => $"A version of the study changes specimen {specimen} of {specimens}.";

    public static string ImportNoSample(int line) => $"Line {line} of traces.csv is not a sample.";

    public static string ImportNoPicture(string file, long megabytesMax) => $"'{file}' is not the JPEG or PNG of at most {megabytesMax} MB that its name says.";

    public static string ImportOtherStudy(string study) => $"The archive has a study '{study}' already, and it is another one. Import into another data folder.";

    public static string ImportOtherPhoto(string photo) => $"The archive has a photo '{photo}' already, and it is another one. Import into another data folder.";

    public static string ImportedFrom(string folder) => $"imported from {folder}";
}
