using System.CommandLine;
using System.CommandLine.Completions;

namespace RigDaq.Daemon.Shell;

/// <summary>A command with all that can be typed behind it. Completions and the manual are made from these, and these from the tree that
/// parses: none of them can name what is not there.</summary>
/// <param name="Path">The words that lead to it after the program's name, each with a blank before it; empty for the program itself.</param>
/// <param name="Description">What it does, in a sentence.</param>
/// <param name="Options">Its options, those of every command last.</param>
/// <param name="Arguments">The words that it takes by their place.</param>
/// <param name="Children">The commands below it.</param>
internal sealed record ShellCommand(string Path, string Description, IReadOnlyList<ShellOption> Options,
    IReadOnlyList<ShellArgument> Arguments, IReadOnlyList<ShellCommand> Children)
{
    /// <summary>The last word of its path.</summary>
    public string Name => Path[(Path.LastIndexOf(' ') + 1)..];

    /// <summary>Whether a word by its place may be a file or a folder.</summary>
    public bool TakesPath => Arguments.Any(argument => argument.TakesPath);

    /// <summary>It and all below it, in the order of the help.</summary>
    public IEnumerable<ShellCommand> All => Children.SelectMany(child => child.All).Prepend(this);

    /// <summary>Reads a tree.</summary>
    public static ShellCommand Of(Command root) => Of(root, "", []);

    private static ShellCommand Of(Command command, string path, IReadOnlyList<Option> above)
    {
        Option[] own = [.. command.Options.Where(option => !option.Hidden)];
        Option[] further = [.. own.Where(option => option.Recursive), .. above];
        return new ShellCommand(
            path,
            command.Description ?? "",
            [.. own.Concat(above).Select(Of)],
            [.. command.Arguments.Where(argument => !argument.Hidden).Select(argument => new ShellArgument(argument.Name,
                argument.Description ?? "", argument.Arity.MinimumNumberOfValues, argument.Arity.MaximumNumberOfValues > 1))],
            [.. command.Subcommands.Where(child => !child.Hidden).Select(child => Of(child, $"{path} {child.Name}", further))]);
    }

    private static ShellOption Of(Option option)
    {
        bool takesNone = option.ValueType == typeof(bool) || option.Arity.MaximumNumberOfValues == 0;
        string[] choices = takesNone ? [] : [.. option.GetCompletions(CompletionContext.Empty).Select(choice => choice.Label)];
        string? value = takesNone ? null : option.HelpName ?? (choices.Length > 0 ? string.Join('|', choices) : "VALUE");
        return new ShellOption(option.Name, option.Description ?? "", value, choices);
    }
}
