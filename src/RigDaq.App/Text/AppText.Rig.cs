namespace RigDaq.App.Text;

/// <content>What commands at the rig have in common.</content>
internal static partial class AppText
{
    /// <summary>Where a setting came from that no file states.</summary>
    public const string RigEnvironment = "the environment";

    /// <summary>Should a command that only looks at a rig be asked to keep a pull.</summary>
    public const string RigNothingPulled = "This command pulls nothing.";

    public static string RigClaimTaken(string warning) => $"No calibration is in force: {warning}";

    /// <param name="seconds">How long it was waited.</param>
    /// <param name="what">What for.</param>
    /// <param name="link">What the link says.</param>
    /// <param name="sequence">What the sequence says; null without one.</param>
    public static string RigWaited(double seconds, string what, string link, string? sequence) =>
        $"Waited {seconds:0} s for {what}, in vain. {(sequence is null ? link : $"{link} {sequence}")}".TrimEnd();
}
