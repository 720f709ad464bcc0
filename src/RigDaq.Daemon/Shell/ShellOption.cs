namespace RigDaq.Daemon.Shell;

/// <summary>An option as shells and the manual are told of it.</summary>
/// <param name="Name">With its dashes.</param>
/// <param name="Description">What it does, in a sentence.</param>
/// <param name="Value">What its value is called; null where it takes none.</param>
/// <param name="Choices">The only words that it takes; empty for any.</param>
internal sealed record ShellOption(string Name, string Description, string? Value, IReadOnlyList<string> Choices)
{
    /// <summary>Whether its value is a file or a folder.</summary>
    public bool TakesPath => Value is { } value && ShellPaths.Names.Contains(value);
}
