namespace RigDaq.Archive.Packages;

/// <summary>What came of reading a package in.</summary>
/// <param name="StudyId">The study.</param>
/// <param name="Runs">How many runs of it the archive holds now.</param>
/// <param name="Remarks">What a person should know of it: figures that do not follow from the raw samples, one sentence each.</param>
public sealed record PackageImport(string StudyId, int Runs, IReadOnlyList<string> Remarks);
