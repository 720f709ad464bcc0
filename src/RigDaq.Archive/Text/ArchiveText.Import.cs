namespace RigDaq.Archive.Text;

/// <content>Why a data package cannot be read in.</content>
internal static partial class ArchiveText
{
    public const string ImportTracesHeader = "The header is not that of traces.csv.";
    public const string ImportChannelsHeader = "The header is not that of channels.csv.";
    public const string ImportChannelRowGroup = "A row group of channels does not hold exactly one channel of one run.";
    public const string ImportRowGroup = "A row group does not hold exactly one run.";

    public static string ImportNotReadable(string folder, string fault) => $"The package '{folder}' cannot be read: {fault} Nothing was stored. Get the package again.";

    public static string ImportTooLong(string file, long megabytesMax) => $"'{file}' is longer than {megabytesMax} MB: that is no list of files.";

    public static string ImportLink(string file) => $"'{file}' is a link to something else. Copy the file itself into the package.";

    public static string ImportNotOne(string file, int records) => $"'{file}' holds {records} records; one is expected.";

    public static string ImportTwice(string file, string id) => $"'{file}' holds {id} twice.";

    public static string ImportOfNoRun(string file, string run) => $"'{file}' holds something of run {run}, which the package's runs.jsonl and pulls.jsonl do not have.";

    public static string ImportNoRunId(string file, string run) => $"'{file}': '{run}' is no run id (a UUID in text form).";

    public static string ImportRevisions(string file, string run) => $"'{file}': the revisions of run {run} are not numbered 0, 1, 2 and so on.";

    public static string ImportRunOfOtherStudy(string file, string run, string study) => $"'{file}': run {run} belongs to another study, '{study}'.";

    public static string ImportOtherPull(string file, string run) => $"'{file}': run {run} and its pull do not begin with the same facts.";

    public static string ImportNoCurve(string calibration) => $"Calibration {calibration} has no curve of one to three coefficients that are not all 0.";

    public static string ImportId(string id, int charactersMax) => $"An id has 1 to {charactersMax} characters; this one has {id.Length}.";

    public static string IdLength(string what, int longest) => $"The id of a {what} has 1 to {longest} characters.";

    public static string TextNotPlain(string shown) => $"“{shown}” holds control characters (written out here). Names are of one line and have none; reasons and notes may have several lines.";

    public static string ImportControl(string text) => $"'{text}' holds control characters (shown as ?).";

    public static string ImportNotComputed(string fault) => $"The study's figures cannot be computed from what the package holds: {fault} Nothing was stored.";

    public static string ImportNoTrace(string specimen, string run) =>
        $"Specimen {specimen}: the package holds no samples of run {run}: whether its strength follows from them cannot be told.";

    public static string ImportNoCalibration(string specimen, string calibration) =>
        $"Specimen {specimen}: the package does not hold calibration {calibration}: whether the strength follows from the samples cannot be told.";

    public static string ImportDoesNotFollow(string specimen, string run, double? said, double? follows) =>
        $"Specimen {specimen}: the strength of run {run} does not follow from its samples: the package says {Megapascals(said)}, the samples give {Megapascals(follows)}.";

    public static string ImportMoreRemarks(int more) => $"{more} further runs have remarks of this kind.";

    private static string Megapascals(double? figure) => figure is { } number ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{number:G4} MPa") : "none";

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

    public static string ImportNoChannelValue(int line) => $"Line {line} of channels.csv is not a value of a channel.";

    public static string ImportChannelValues(int channel) => $"The values of channel {channel} are beyond 24 bits, or their numbers do not rise, or there is no such channel.";

    public static string ImportNoChannel(string file, string run, int channel) => $"'{file}' holds values of channel {channel} of run {run}, which its pull does not describe.";

    public static string ImportNoPicture(string file, long megabytesMax) => $"'{file}' is not the JPEG or PNG of at most {megabytesMax} MB that its name says.";

    public static string ImportOtherStudy(string study) => $"The archive has a study '{study}' already, and it is another one. Import into another data folder.";

    public static string ImportOtherPhoto(string photo) => $"The archive has a photo '{photo}' already, and it is another one. Import into another data folder.";

    public static string ImportedFrom(string folder) => $"imported from {folder}";
}
