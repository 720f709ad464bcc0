using System.Globalization;

namespace RigDaq.App.Text;

/// <content>The versions of a study and of its runs, and the way back to one.</content>
internal static partial class AppText
{
    public static string StudyBackTo(int number, string reason) => string.Create(CultureInfo.InvariantCulture, $"back to version {number}: {reason}");
}
