using RigDaq.Core.Pulls;

namespace RigDaq.Rig.Sequencing;

/// <summary>What became of a specimen in a sequence.</summary>
/// <param name="SpecimenId">Its label.</param>
/// <param name="State">What became of it.</param>
/// <param name="Ending">How its last pull ended; null before any.</param>
/// <param name="RunId">Its last run; null before any.</param>
public sealed record SpecimenProgress(string SpecimenId, SpecimenState State, PullEnding? Ending, string? RunId);

/// <summary>What became of a specimen.</summary>
public enum SpecimenState
{
    /// <summary>It waits for its turn.</summary>
    Waiting,

    /// <summary>It is the one now.</summary>
    Current,

    /// <summary>It was pulled and its run is stored.</summary>
    Pulled,

    /// <summary>A person skipped it.</summary>
    Skipped,
}
