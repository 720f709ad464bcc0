using System.Globalization;

namespace RigDaq.App.Text;

/// <content>What is said of whole prints.</content>
internal static partial class AppText
{
    public static string StudyNotPrinted(string place, string reason, int tries) =>
        string.Create(CultureInfo.InvariantCulture, $"{place} could not be printed ({reason}; {tries} {(tries == 1 ? "try" : "tries")})");

    public static string StudyNotPrintedTakenBack(string place) => $"{place} was printed after all";

    public static string StudyNotPrintedPhotoOf(string place) => $"photo of {place}, which could not be printed";

    public const string StudyQuestionsChosen = "questions of the plan chosen";

    public static string StudyJoinedBecause(IReadOnlyList<string> prints, string reason) => $"{string.Join(", ", prints)} are one print: {reason}";
}
