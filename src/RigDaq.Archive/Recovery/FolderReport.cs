namespace RigDaq.Archive.Recovery;

/// <summary>What a data folder holds, its journal, captures, database and photos held against each other.</summary>
/// <param name="Studies">Studies in it.</param>
/// <param name="Calibrations">Calibrations in it.</param>
/// <param name="Runs">Runs in it.</param>
/// <param name="Findings">What is damaged, missing or differs, in words, each with where it is to be had; empty where all agree.</param>
public sealed record FolderReport(int Studies, int Calibrations, int Runs, IReadOnlyList<string> Findings)
{
    /// <summary>What is no fault of the data and should be known.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>Files of the backup before that were kept because this one has findings.</summary>
    public IReadOnlyList<string> KeptOfBefore { get; init; } = [];
}
