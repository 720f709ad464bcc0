using RigDaq.Rig.Sequencing;

namespace RigDaq.Rig.Tests.Sequencing;

/// <summary>Where a world's pulls go; without one a world makes up by chance what becomes of them.</summary>
internal interface IWorldStore
{
    /// <summary>Begins the capture of a pull of a specimen: the run's id, or null where it cannot be begun.</summary>
    string? Open(string specimenId);

    /// <summary>A pull ends: stored, or not.</summary>
    SequenceEvent End(EndPull ended);

    /// <summary>A pull that was not stored is tried again.</summary>
    SequenceEvent Again(string runId);
}
