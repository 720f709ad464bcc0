namespace RigDaq.Core.Specimens;

/// <summary>A study as it once was kept.</summary>
/// <param name="Study">The study.</param>
/// <param name="Reason">Why it was kept.</param>
/// <param name="At">When.</param>
public sealed record StudyVersion(Study Study, string Reason, DateTimeOffset At);
