using RigDaq.Core.Callers;

namespace RigDaq.Web.Views;

/// <summary>A study's versions, the latest first.</summary>
/// <param name="Count">How many there are.</param>
/// <param name="Versions">The latest of them.</param>
internal sealed record StudyVersionsView(int Count, IReadOnlyList<StudyVersionItem> Versions);

/// <summary>One version.</summary>
/// <param name="Number">Counted from 1.</param>
/// <param name="At">When it was kept.</param>
/// <param name="Reason">Why.</param>
/// <param name="By">By whom; null where that was not kept.</param>
internal sealed record StudyVersionItem(int Number, DateTimeOffset At, string Reason, By? By);
