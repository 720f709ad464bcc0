namespace RigDaq.Daemon.Door;

/// <summary>A line of input for a command that asked for one.</summary>
/// <param name="Line">Without its end; null where the input has ended.</param>
internal sealed record DoorLine(string? Line);
