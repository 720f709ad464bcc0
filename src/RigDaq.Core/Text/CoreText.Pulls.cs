namespace RigDaq.Core.Text;

/// <content>What was before a pull.</content>
internal static partial class CoreText
{
    public static string ZeroOfBefore(int pulls, double? ageSeconds) =>
        $"The zero was not taken anew for this pull, because a piece may have joined the grips: {(pulls == 1 ? "one pull" : FormattableString.Invariant($"{pulls} pulls"))} "
        + $"had begun with it before{(ageSeconds is { } age ? $", and it was {Age(age)} old" : "")}. What it drifted in that time is in the forces; a shift over this pull is told apart.";

    public static string OldZero(double ageSeconds) => $"The zero was {Age(ageSeconds)} old when the pull began: what it drifted in that time is in the forces.";

    public static string PulledBefore(int pulls) =>
        $"The sequence had begun to pull this specimen {(pulls == 1 ? "once" : FormattableString.Invariant($"{pulls} times"))} before: it may have been loaded already, and what it bears may have changed.";

    private static string Age(double seconds) => seconds < 120 ? FormattableString.Invariant($"{seconds:F0} s") : FormattableString.Invariant($"{seconds / 60:F0} min");
}
