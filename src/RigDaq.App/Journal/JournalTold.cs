namespace RigDaq.App.Journal;

/// <summary>What happened between two moments.</summary>
internal sealed record JournalTold
{
    /// <summary>The first moment.</summary>
    public required DateTimeOffset From { get; init; }

    /// <summary>The moment after the last.</summary>
    public required DateTimeOffset To { get; init; }

    /// <summary>The latest first.</summary>
    public required IReadOnlyList<JournalItem> Items { get; init; }

    /// <summary>Whether there is more than is told.</summary>
    public required bool IsCut { get; init; }

    /// <summary>How many pulls ended in each way.</summary>
    public required IReadOnlyList<JournalCount> Endings { get; init; }

    /// <summary>How often the sequence was held.</summary>
    public required int Holds { get; init; }

    /// <summary>How many alarms there were, holds among them.</summary>
    public required int Alarms { get; init; }

    /// <summary>How often the link was lost.</summary>
    public required int LinksLost { get; init; }

    /// <summary>The zero of each pull against that of the first one, in newtons.</summary>
    public required IReadOnlyList<JournalPoint> Zero { get; init; }

    /// <summary>The noise at each zero, in newtons.</summary>
    public required IReadOnlyList<JournalPoint> Noise { get; init; }

    /// <summary>The free disk, in megabytes.</summary>
    public required IReadOnlyList<JournalPoint> Disk { get; init; }
}
