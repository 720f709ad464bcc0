namespace RigDaq.Daemon.Shell;

/// <summary>A word that a command takes by its place.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Description">What it is, in a sentence.</param>
/// <param name="CountMin">How many there must be.</param>
/// <param name="IsMany">Whether there may be several.</param>
internal sealed record ShellArgument(string Name, string Description, int CountMin, bool IsMany)
{
    /// <summary>Whether it is a file or a folder.</summary>
    public bool TakesPath => ShellPaths.Names.Contains(Name);
}
