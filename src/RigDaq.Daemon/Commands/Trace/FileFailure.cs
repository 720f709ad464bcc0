namespace RigDaq.Daemon.Commands;

/// <summary>A file that could not be read.</summary>
internal sealed record FileFailure(string File, string Error);
