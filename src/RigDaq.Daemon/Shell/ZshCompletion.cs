using System.Text;

namespace RigDaq.Daemon.Shell;

/// <summary>What zsh is told of the commands.</summary>
internal static class ZshCompletion
{
    public static string Of(ShellCommand root)
    {
        var script = new StringBuilder();
        script.Append($$"""
            #compdef rigdaq
            # Made from the program's commands by `rigdaq completion zsh`.
            _rigdaq() {
                local at= files= i
                local -a commands options
                for ((i = 2; i < CURRENT; i++)); do
                    case "$at $words[i]" in
                        ({{ShellWords.Paths(root)}}) at="$at $words[i]" ;;
                    esac
                done
                case "$at $words[CURRENT-1]" in
                    ({{ShellWords.Options(root, option => option.TakesPath)}}) _files; return ;;

            """);
        foreach ((string patterns, string words) in ShellWords.Choices(root))
            script.Append($"        ({patterns}) compadd -- {words}; return ;;\n");
        script.Append($$"""
                    ({{ShellWords.Options(root, option => option.Value is not null)}}) _message value; return ;;
                esac
                case "$at" in

            """);
        foreach (ShellCommand command in root.All)
        {
            script.Append($"        ({ShellWords.Quoted(command.Path)})\n            commands=(");
            script.AppendJoin(' ', command.Children.Select(child => ShellWords.Quoted($"{child.Name}:{child.Description}")));
            script.Append(")\n            options=(");
            script.AppendJoin(' ', command.Options.Select(option => ShellWords.Quoted($"{option.Name}:{option.Description}")));
            script.Append($")\n            files={(command.TakesPath ? "1" : "")} ;;\n");
        }

        return script.Append("""
                esac
                if [[ $PREFIX == -* ]]; then
                    _describe -o option options
                    return
                fi
                (( $#commands == 0 )) || _describe command commands
                [[ -z $files ]] || _files
            }
            _rigdaq "$@"

            """).ToString();
    }
}
