namespace RigDaq.Daemon.Text;

/// <content>What belongs to a study's prints and pieces: labels, records of printing, photos and looks, strengths from a table.</content>
internal static partial class TerminalText
{
    public const string StudyLabelsCommand = "Specimen labels with a code for machines, as a PDF to print and cut apart.";
    public const string StudyLabelsOut = "The PDF to write.";
    public const string StudyLabelsBlind = "Leave the group off, so that who judges a fracture is not led by it.";

    public const string StudyLookCommand = "Notes what the eye saw: where it broke, which layer, how it looks, a photo.";
    public const string StudyLookLocation = "Where it broke.";
    public const string StudyLookLayer = "Which layer.";
    public const string StudyLookAppearance = "How the surface looks, in your own words.";
    public const string StudyLookPhoto = "A photo, JPEG or PNG, at most 10 MB; a copy is kept.";

    public const string StudyRecordCommand = "Notes how prints came to be: storage, drying, chamber, printer settings.";
    public const string StudyRecordPrints = "The prints it holds for: one id, or several with commas.";
    public const string StudyRecordFile = "JSON with storage, drying, whilePrinting, chamberTemperatureCelsius, printerSettings, notes.";
    public const string StudyRecordObjectExpected = "an object was expected.";

    public const string StudyImportCommand = "Lets strengths from a table join a study, marked as imported, without a trace; a study that is not there is made.";
    public const string StudyImportName = "Of a new study: a name for people.";
    public const string StudyImportSettingName = "Of a new study: what the setting is.";
    public const string StudyImportSettingUnit = "Of a new study: the setting's unit.";
    public const string StudyImportFile = "CSV with strength_MPa and either specimen, or material, condition, setting and perhaps print.";
    public const string StudyImportColumn = "What a column with another name stands for: strength_MPa=Festigkeit. Once for each.";
    public const string StudyImportSeparate = "A print name at several settings stands for a print at each, instead of one print with a stretch at each.";
    public const string StudyImportPool = "Strengths may join groups that have specimens already, and why; without it they may not.";
    public const string StudyImportApply = "Do it; without it the mapping is only shown.";
    public const string StudyImportStrengthExpected = "a strength above 0 MPa was expected.";

    public static string StudyLabelsNotPdf(string file) => $"--out: a name that ends in .pdf was expected, not {file}.";

    public static string StudyLabelsNone(string study) => $"The study {study} has no specimens to label.";

    public static string StudyLabelsWritten(int labels, string file) => $"{labels} labels in {file}. Print at 100 %.";

    public static string StudyRecordNoPrint(string study, string print, IEnumerable<string> known) =>
        $"The study {study} has no print {print}; it has {string.Join(", ", known)}.";

    public static string StudyRecorded(string prints, string file) => $"record of {prints} from {file}";

    public static string StudyRecordTooLong(long bytesMax) => $"longer than {bytesMax} bytes.";

    public static string StudyRecordNotOne(string file, long? line, string key) => $"{file}, line {line}, key {key}: not a record of a print; docs/studies.md shows one.";

    public static string StudyImported(int strengths, string file, string? pooled) =>
        $"{StrengthsOf(strengths)} imported from {file}{(string.IsNullOrWhiteSpace(pooled) ? "" : $"; pooled with what was there: {pooled.Trim()}")}";

    public static string StudyImportFrom(string field, string column) => $"{field} from the column {column}";

    public static string StudyImportNewPrint(string print, string group, int specimens) => $"new print {print}: {group}, {SpecimensOf(specimens)}";

    public static string StudyImportJoined(int strengths) => $"{StrengthsOf(strengths)} joined.";

    public static string StudyImportNewStudy(string study) => $"new study {study}";

    public static string StudyImportWouldJoin(int strengths, bool canBe) =>
        $"{StrengthsOf(strengths)} would join; {(canBe ? "add --apply to do it" : "it is refused as it stands, for the reason below")}.";

    public static string StudyImportColumnNotKnown(string field, IEnumerable<string> fields) => $"--column: {field} is not one of {string.Join(", ", fields)}.";

    public static string StudyImportColumnNotThere(string field, string column) => $"the header lacks the column {column}, which --column {field}={column} names.";

    public static string StudyImportNoColumns(string specimen, string material, string condition) =>
        $"neither a column {specimen} nor {material} and {condition}; name them with --column.";

    private static string StrengthsOf(int count) => $"{count} strength{(count == 1 ? "" : "s")}";
}
