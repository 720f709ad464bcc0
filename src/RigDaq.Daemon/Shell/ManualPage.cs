using System.Text;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Shell;

/// <summary>The manual page, <c>rigdaq(1)</c>, in the macros of man(7).</summary>
internal static class ManualPage
{
    public static string Of(ShellCommand root, string version)
    {
        var page = new StringBuilder();
        page.Append($".TH RIGDAQ 1 \"\" \"rigdaq {version}\"\n");
        Section("NAME", $"rigdaq \\- {Escaped(TerminalText.ManualIs)}");
        Section("SYNOPSIS", ".B rigdaq\n.I COMMAND\n.RI [ ARGUMENTS ]\n.RI [ OPTIONS ]");
        Section("DESCRIPTION", Line(root.Description) + "\n.PP\n" + Line(TerminalText.ManualAnswers));
        Section("CAUTIONS", Line(TerminalText.ManualCautions));
        page.Append(".SH OPTIONS\n");
        foreach (ShellOption option in root.Options) Option(option);
        page.Append(".SH COMMANDS\n");
        HashSet<string> everywhere = [.. root.Options.Select(option => option.Name)];
        foreach (ShellCommand command in root.All.Skip(1).Where(command => command.Children.Count == 0 || command.Arguments.Count > 0))
        {
            page.Append($".SS rigdaq{Escaped(command.Path)}{string.Concat(command.Arguments.Select(Place))}\n{Line(command.Description)}\n");
            foreach (ShellArgument argument in command.Arguments) Item($".I {Escaped(argument.Name)}", argument.Description);
            foreach (ShellOption option in command.Options.Where(option => !everywhere.Contains(option.Name))) Option(option);
        }

        page.Append(".SH EXIT STATUS\n");
        Item(".B 0", TerminalText.ManualDone);
        Item(".B 1", TerminalText.ManualCouldNot);
        Item(".B 2", TerminalText.ManualBadInput);
        page.Append(".SH ENVIRONMENT\n");
        Item(".B RIGDAQ__SECTION__KEY", TerminalText.ManualSettings);
        Item(".B RIGDAQ_LANGUAGE", TerminalText.ManualLanguage);
        page.Append(".SH FILES\n");
        Item(".I /etc/rigdaq/rigdaq.json", TerminalText.ManualConfiguration);
        Item(".I /var/lib/rigdaq", TerminalText.ManualData);
        Item(".I /usr/share/doc/rigdaq", TerminalText.ManualDocs);
        Section("SEE ALSO", ".BR systemctl (1),\n.BR journalctl (1)");
        return page.ToString();

        void Section(string head, string body) => page.Append($".SH {head}\n{body}\n");

        void Item(string head, string words) => page.Append($".TP\n{head}\n{Line(words)}\n");

        void Option(ShellOption option) => Item(option.Value is { } value
            ? $".BI {Escaped(option.Name)} \" {Escaped(value)}\"" : $".B {Escaped(option.Name)}", option.Description);
    }

    private static string Place(ShellArgument argument)
    {
        string name = argument.Name + (argument.IsMany ? "..." : "");
        return Escaped(argument.CountMin == 0 ? $" [{name}]" : $" {name}");
    }

    /// <summary>A line of text: what begins with a point would be a macro.</summary>
    private static string Line(string words) => words.Length > 0 && words[0] is '.' or '\'' ? @"\&" + Escaped(words) : Escaped(words);

    /// <summary>What is a sign of its own to the formatter is written out, and a list without blanks may be broken behind its
    /// commas.</summary>
    private static string Escaped(string words) => words.Replace(@"\", @"\e", StringComparison.Ordinal)
        .Replace("-", @"\-", StringComparison.Ordinal).Replace(",", @",\:", StringComparison.Ordinal).ReplaceLineEndings(" ");
}
