using RigDaq.App.Text;
using RigDaq.Text;

namespace RigDaq.App.Alarms;

/// <summary>The names of alarms, by which programs know them, and what to do about each.</summary>
internal static class AlarmKinds
{
    public const string LinkLost = "link lost", SequenceHeld = "sequence held", PullEndedOddly = "pull ended oddly",
        DatabaseDamaged = "database damaged", DiskLow = "disk low";

    /// <summary>All of them.</summary>
    public static IReadOnlyList<string> All { get; } = [LinkLost, SequenceHeld, PullEndedOddly, DatabaseDamaged, DiskLow];

    /// <summary>What to do.</summary>
    public static Sentence RemedyOf(string kind) => kind switch
    {
        LinkLost => AppText.RemedyLinkLost,
        SequenceHeld => AppText.RemedySequenceHeld,
        PullEndedOddly => AppText.RemedyPullEndedOddly,
        DatabaseDamaged => AppText.RemedyDatabaseDamaged,
        DiskLow => AppText.RemedyDiskLow,
        _ => Sentence.None,
    };
}
