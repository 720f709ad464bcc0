using System.Text;

namespace RigDaq.Daemon.Shell;

/// <summary>What bash is told of the commands.</summary>
internal static class BashCompletion
{
    public static string Of(ShellCommand root)
    {
        var script = new StringBuilder();
        script.Append($$"""
            # Made from the program's commands by `rigdaq completion bash`.
            _rigdaq()
            {
                local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} at= words= options= files= i
                COMPREPLY=()
                for ((i = 1; i < COMP_CWORD; i++)); do
                    case "$at ${COMP_WORDS[i]}" in
                        {{ShellWords.Paths(root)}}) at="$at ${COMP_WORDS[i]}" ;;
                    esac
                done
                case "$at $prev" in
                    {{ShellWords.Options(root, option => option.TakesPath)}}) mapfile -t COMPREPLY < <(compgen -f -- "$cur"); return ;;

            """);
        foreach ((string patterns, string words) in ShellWords.Choices(root))
            script.Append($"        {patterns}) mapfile -t COMPREPLY < <(compgen -W {ShellWords.Quoted(words)} -- \"$cur\"); return ;;\n");
        script.Append($$"""
                    {{ShellWords.Options(root, option => option.Value is not null)}}) return ;;
                esac
                case "$at" in

            """);
        foreach (ShellCommand command in root.All)
        {
            string words = string.Join(' ', command.Children.Select(child => child.Name));
            string options = string.Join(' ', command.Options.Select(option => option.Name));
            string files = command.TakesPath ? "1" : "";
            script.Append($"        {ShellWords.Quoted(command.Path)}) words='{words}' options='{options}' files={files} ;;\n");
        }

        return script.Append("""
                esac
                [[ $cur != -* ]] || { words=$options; files=; }
                mapfile -t COMPREPLY < <(compgen -W "$words" -- "$cur"; [ -z "$files" ] || compgen -f -- "$cur")
            }
            complete -o filenames -F _rigdaq rigdaq

            """).ToString();
    }
}
