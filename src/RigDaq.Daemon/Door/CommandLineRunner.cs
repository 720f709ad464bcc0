namespace RigDaq.Daemon.Door;

/// <summary>Does what a command line says, and gives its exit status.</summary>
internal delegate Task<int> CommandLineRunner(string[] arguments, CancellationToken cancellation);
