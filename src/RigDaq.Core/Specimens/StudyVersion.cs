using RigDaq.Core.Callers;

namespace RigDaq.Core.Specimens;

/// <summary>A study as it once was kept.</summary>
/// <param name="Study">The study.</param>
/// <param name="Reason">Why it was kept.</param>
/// <param name="At">When.</param>
/// <param name="By">By whom; null where the rig did it by itself, or that was not kept.</param>
public sealed record StudyVersion(Study Study, string Reason, DateTimeOffset At, By? By = null);
