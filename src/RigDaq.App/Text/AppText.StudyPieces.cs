namespace RigDaq.App.Text;

/// <content>What belongs to a study's prints and pieces: labels, records of printing, photos and looks, strengths from a table.</content>
internal static partial class AppText
{
    public const string StudyPhotoCutShort = "the picture is cut short: it has a beginning and no whole content. Copy it again.";
    public const string StudyPhotoNeitherKind = "neither a JPEG nor a PNG picture.";
    public const string StudyImportNoRows = "a header but no rows.";
    public const string StudyImportEmpty = "empty.";

    public static string StudyPhotoTooLarge(long megabytesMax) => $"larger than {megabytesMax} MB; make it smaller.";

    public static string StudyRecordedByHand(string prints) => $"record of {prints}";
}
