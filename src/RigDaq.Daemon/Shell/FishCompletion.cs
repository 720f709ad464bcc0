using System.Text;

namespace RigDaq.Daemon.Shell;

/// <summary>What fish is told of the commands.</summary>
internal static class FishCompletion
{
    public static string Of(ShellCommand root)
    {
        var script = new StringBuilder();
        script.Append($$"""
            # Made from the program's commands by `rigdaq completion fish`.
            function __rigdaq_at
                set -l at ''
                for word in (commandline -opc)[2..]
                    switch "$at $word"
                        case {{string.Join(' ', root.All.Skip(1).Select(command => Quoted(command.Path)))}}
                            set at "$at $word"
                    end
                end
                test "$at" = "$argv[1]"
            end
            complete -c rigdaq -f

            """);
        foreach (ShellCommand command in root.All)
        {
            string here = $"complete -c rigdaq -n \"__rigdaq_at {Quoted(command.Path)}\"";
            foreach (ShellCommand child in command.Children)
                script.Append($"{here} -a {Quoted(child.Name)} -d {Quoted(child.Description)}\n");
            foreach (ShellOption option in command.Options)
                script.Append($"{here} -l {option.Name.TrimStart('-')}{Value(option)} -d {Quoted(option.Description)}\n");
            if (command.TakesPath) script.Append($"{here} -F\n");
        }

        return script.ToString();
    }

    private static string Value(ShellOption option) => option switch
    {
        { Value: null } => "",
        { Choices.Count: > 0 } => $" -x -a {Quoted(string.Join(' ', option.Choices))}",
        { TakesPath: true } => " -r -F",
        _ => " -x",
    };

    private static string Quoted(string word) =>
        $"'{word.Replace(@"\", @"\\", StringComparison.Ordinal).Replace("'", @"\'", StringComparison.Ordinal)}'";
}
