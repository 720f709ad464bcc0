namespace RigDaq.Core.Specimens;

/// <summary>Where a study came from that was not made here.</summary>
/// <param name="StudyId">The study.</param>
/// <param name="Package">The package's name.</param>
/// <param name="At">When it was imported.</param>
public sealed record StudyOrigin(string StudyId, string Package, DateTimeOffset At);
