namespace RigDaq.App.Text;

/// <content>Making a study, the list of all, and which one is worked on.</content>
internal static partial class AppText
{
    public const string StudyMade = "made";
}
