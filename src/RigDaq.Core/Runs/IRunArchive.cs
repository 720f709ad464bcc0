using RigDaq.Core.Pulls;

namespace RigDaq.Core.Runs;

/// <summary>Where runs are kept. Every call is whole: what it returns is detached from the store.</summary>
public interface IRunArchive
{
    /// <summary>
    /// Keeps a run with its raw trace and what waits to be published, all or nothing; it survives a power cut when this
    /// returns. Storing the same run id again with the same content changes nothing.
    /// </summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    void Store(Run run, PullRecord pull, IReadOnlyList<OutboxMessage> messages);

    /// <summary>Adds a revision of a run; the earlier ones stay.</summary>
    void Revise(Run revision, IReadOnlyList<OutboxMessage> messages);

    /// <summary>The latest revision of a run, or null.</summary>
    Run? Find(string runId);

    /// <summary>All revisions of a run, the first first.</summary>
    IReadOnlyList<Run> Revisions(string runId);

    /// <summary>The raw pull of a run, or null.</summary>
    PullRecord? FindPull(string runId);

    /// <summary>The latest revisions of a study's runs, in the order they were pulled.</summary>
    IReadOnlyList<Run> OfStudy(string studyId);

    /// <summary>The newest runs, newest first.</summary>
    IReadOnlyList<Run> Latest(int count);
}
