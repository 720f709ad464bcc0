namespace RigDaq.App.Journal;

/// <summary>A figure at a moment.</summary>
internal sealed record JournalPoint(DateTimeOffset At, double? Value);
