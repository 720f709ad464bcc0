namespace RigDaq.Daemon.Door;

/// <summary>A command that somebody typed, as it goes to the daemon that has the data folder.</summary>
/// <param name="Arguments">As typed, paths made whole.</param>
/// <param name="Settings">The configuration in the terminal's environment, by its names.</param>
internal sealed record DoorRequest(IReadOnlyList<string> Arguments, IReadOnlyDictionary<string, string> Settings);
