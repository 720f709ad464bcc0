using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Benchmarks.Storage;

/// <summary>Where runs are kept: the same rows, asked the same way, whatever engine holds them. Each row's checksum is verified when it
/// is read.</summary>
internal interface IRunStore : IDisposable
{
    /// <summary>Keeps a run, its first revision, its pull, its samples and its message in one transaction.</summary>
    void Store(KeptRun run);

    /// <summary>The text of a run's first version; null where there is no such run.</summary>
    string? Text(string runId);

    /// <summary>A run's pull with its samples; null where there is no such run.</summary>
    PullRecord? Pull(string runId);

    /// <summary>The newest runs.</summary>
    IReadOnlyList<Run> Latest(int count);

    /// <summary>The runs of one study.</summary>
    IReadOnlyList<Run> OfStudy(string study);

    /// <summary>A copy of everything that was stored before, as one file in another folder, while others store.</summary>
    void Backup(string folder);
}
