namespace RigDaq.Daemon.Shell;

/// <summary>What the three shells have in common: how a word is quoted, and which option is at which command.</summary>
internal static class ShellWords
{
    /// <summary>A word for bash and zsh: whatever is in it, it is that and nothing else.</summary>
    public static string Quoted(string word) => $"'{word.Replace("'", @"'\''", StringComparison.Ordinal)}'";

    /// <summary>The paths of all commands but the program itself, as patterns of a <c>case</c>.</summary>
    public static string Paths(ShellCommand root) => Patterns(root.All.Skip(1).Select(command => command.Path));

    /// <summary>Each option of some kind behind its command, as patterns of a <c>case</c>.</summary>
    public static string Options(ShellCommand root, Func<ShellOption, bool> isOfKind) => Patterns(root.All
        .SelectMany(command => command.Options.Where(isOfKind).Select(option => $"{command.Path} {option.Name}")));

    /// <summary>Options that take one of some words only, the commands where they do, and the words.</summary>
    public static IEnumerable<(string Patterns, string Words)> Choices(ShellCommand root) => root.All
        .SelectMany(command => command.Options.Where(option => option.Choices.Count > 0)
            .Select(option => (At: $"{command.Path} {option.Name}", Words: string.Join(' ', option.Choices))))
        .GroupBy(one => one.Words).Select(group => (Patterns(group.Select(one => one.At)), group.Key));

    private static string Patterns(IEnumerable<string> words) => string.Join('|', words.Select(Quoted));
}
