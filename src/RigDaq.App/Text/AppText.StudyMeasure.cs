namespace RigDaq.App.Text;

/// <content>Sections measured by keyboard or by a caliper that types.</content>
internal static partial class AppText
{
    public const string StudyMeasured = "the section was measured";

    public static string StudyMeasuredSectionOf(string specimen) => $"section of {specimen}";
}
