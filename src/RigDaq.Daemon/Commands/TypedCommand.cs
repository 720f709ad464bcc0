using System.Collections;
using System.CommandLine;
using System.CommandLine.Parsing;
using RigDaq.App.Configuration;
using RigDaq.Daemon.Door;
using RigDaq.Daemon.Shell;
using RigDaq.Daemon.Terminal;

namespace RigDaq.Daemon.Commands;

/// <summary>A command line that was typed here, made so that a daemon, which runs in another folder, understands the same by it.</summary>
internal static class TypedCommand
{
    /// <summary>The request for it.</summary>
    public static DoorRequest Request(ParseResult parsed)
    {
        HashSet<Token> paths = new(PathsOf(parsed.RootCommandResult), ReferenceEqualityComparer.Instance);
        return new DoorRequest(
            [.. parsed.Tokens.Select(token => paths.Contains(token) ? Path.GetFullPath(token.Value) : token.Value)],
            CommandPlace.Settings.Cast<DictionaryEntry>()
                .Select(setting => ((string)setting.Key, (string?)setting.Value ?? ""))
                .Where(setting => setting.Item1.StartsWith(OptionsReader.EnvironmentPrefix, StringComparison.OrdinalIgnoreCase))
                .ToDictionary());
    }

    private static IEnumerable<Token> PathsOf(SymbolResult of) => of switch
    {
        CommandResult command => command.Children.SelectMany(PathsOf),
        OptionResult option when ShellPaths.Names.Contains(option.Option.HelpName) => option.Tokens,
        ArgumentResult argument when ShellPaths.Names.Contains(argument.Argument.Name) => argument.Tokens,
        _ => [],
    };
}
