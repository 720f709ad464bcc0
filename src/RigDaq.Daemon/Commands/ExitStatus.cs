namespace RigDaq.Daemon.Commands;

/// <summary>What a command ends with.</summary>
internal static class ExitStatus
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>It could not be done: the machine, the device, the database.</summary>
    public const int CouldNotBeDone = 1;

    /// <summary>The command line, the configuration or an input file was wrong.</summary>
    public const int BadInput = 2;
}
