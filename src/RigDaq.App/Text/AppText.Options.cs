namespace RigDaq.App.Text;

/// <content>Options and arguments that several commands have, and what is wrong with them.</content>
internal static partial class AppText
{
    public static string OptionRange(double low, double high) => FormattableString.Invariant($"{low} to {high}");
}
