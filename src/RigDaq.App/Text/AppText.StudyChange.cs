namespace RigDaq.App.Text;

/// <content>Changing a study.</content>
internal static partial class AppText
{
    public const string StudyPlanFrozen = "the plan was frozen";
}
