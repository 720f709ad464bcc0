namespace RigDaq.Daemon.Door;

/// <summary>The terminal that a command was typed at.</summary>
/// <param name="Output">Standard output.</param>
/// <param name="Error">Standard error.</param>
/// <param name="Input">What is typed.</param>
internal sealed record DoorTerminal(TextWriter Output, TextWriter Error, TextReader Input);
