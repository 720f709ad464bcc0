using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Packages;

/// <summary>A run of a package as it was looked at.</summary>
/// <param name="RunId">The run.</param>
/// <param name="Revisions">Every revision, the first first.</param>
/// <param name="Pull">Its pull without samples; null where the package has none.</param>
internal sealed record PackageRun(string RunId, IReadOnlyList<Run> Revisions, PullRecord? Pull)
{
    /// <summary>The samples, packed as the database holds them: a package's traces unpacked would fill the memory.</summary>
    public IReadOnlyList<byte[]> Pieces { get; init; } = [];

    public int Samples { get; init; }

    /// <summary>The last channel whose values were added; -1 for none.</summary>
    public int LastChannel { get; init; } = -1;

    public uint TraceChecksum { get; init; } = TraceContent.ChecksumOf([]);

    /// <summary>The pull with its samples; null where there is none.</summary>
    public PullRecord? WholePull() => Pull is null ? null : Pull with
    {
        Trace = TraceContent.Of(Pieces).In(Pull.Trace),
    };
}
