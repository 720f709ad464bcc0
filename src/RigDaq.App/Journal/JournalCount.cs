namespace RigDaq.App.Journal;

/// <summary>How often something was.</summary>
internal sealed record JournalCount(string Name, int Count);
