using RigDaq.Core.Callers;
using RigDaq.Text;

namespace RigDaq.App.Jobs;

/// <summary>A job as it stands at one moment.</summary>
/// <param name="Id">Its name in the interface.</param>
/// <param name="Order">What is made.</param>
/// <param name="AskedAt">When.</param>
internal sealed record Job(string Id, JobOrder Order, DateTimeOffset AskedAt)
{
    /// <summary>How far it is.</summary>
    public JobState State { get; init; } = JobState.Waiting;

    /// <summary>How many stretches of the work are done, and of how many; 0 of 0 where that is not known yet.</summary>
    public (int Done, int Of) Progress { get; init; }

    /// <summary>Who asked for it; null where nobody did.</summary>
    public By? By { get; init; }

    /// <summary>When it was over; null before.</summary>
    public DateTimeOffset? EndedAt { get; init; }

    /// <summary>Why it failed; empty else.</summary>
    public IReadOnlyList<Sentence> Problem { get; init; } = [];

    /// <summary>The file; null before it is done.</summary>
    public string? File { get; init; }

    /// <summary>Whether nothing further happens to it.</summary>
    public bool IsOver => EndedAt is not null;
}
