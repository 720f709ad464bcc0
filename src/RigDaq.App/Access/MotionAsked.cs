namespace RigDaq.App.Access;

/// <summary>Something that somebody elsewhere wants to move, and that waits for a person at the rig.</summary>
/// <param name="Id">Its number.</param>
/// <param name="Name">Who.</param>
/// <param name="From">From where.</param>
/// <param name="What">The command, by its name in the interface.</param>
/// <param name="Until">When it lapses.</param>
internal sealed record MotionAsked(int Id, string Name, string From, string What, DateTimeOffset Until);
