namespace RigDaq.Archive.Recovery;

/// <summary>What came back when a database was made anew.</summary>
/// <param name="Studies">Studies now in it.</param>
/// <param name="Calibrations">Calibrations now in it.</param>
/// <param name="Runs">Runs now in it.</param>
/// <param name="Recomputed">Those of them that only a capture knew of, computed again.</param>
/// <param name="DamagedLines">Lines of the journal that could not be read.</param>
public sealed record RebuildReport(int Studies, int Calibrations, int Runs, int Recomputed, int DamagedLines)
{
    /// <summary>What was damaged, missing or different, in words, each with where it was taken from, or that it is lost.</summary>
    public IReadOnlyList<string> Findings { get; init; } = [];

    /// <summary>The names of what was set aside.</summary>
    public IReadOnlyList<string> SetAside { get; init; } = [];

    /// <summary>Photos that a run names and that are missing or changed, in words; they are files of their own and are not made
    /// anew.</summary>
    public IReadOnlyList<string> PhotoFaults { get; init; } = [];
}
