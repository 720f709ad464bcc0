using System.Diagnostics;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Shell;

namespace RigDaq.Daemon.Tests.Shell;

/// <summary>What the shells themselves make of the completions: each is given a command line as typed and asked what may follow.</summary>
public sealed class CompletionTest
{
    private static readonly ShellCommand Root = ShellCommand.Of(CommandTree.Create());

    [Theory]
    [InlineData("rigdaq cal", "calibrate calibration")]
    [InlineData("rigdaq study void --ki", "--kind")]
    [InlineData("rigdaq calibration fit --degree ", "1 2 3")]
    [InlineData("rigdaq report --out pi", "pictures")]
    [InlineData("rigdaq trace pi", "pictures")]
    [InlineData("rigdaq demo --seed pi", "")]
    public void Bash_completes_commands_options_words_and_files(string typed, string expected) =>
        Assert.Equal(expected, Sorted(Ask("bash", BashCompletion.Of(Root), $$"""
            COMP_WORDS=({{string.Join(' ', typed.Split(' ').Select(word => $"'{word}'"))}})
            COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
            _rigdaq
            printf '%s\n' "${COMPREPLY[@]}"
            """)));

    [Theory]
    [InlineData("rigdaq cal", "calibrate calibration")]
    [InlineData("rigdaq study void --ki", "--kind")]
    [InlineData("rigdaq calibration fit --degree ", "1 2 3")]
    [InlineData("rigdaq report --out pi", "pictures/")]
    [InlineData("rigdaq demo --seed pi", "")]
    public void Fish_completes_commands_options_words_and_files(string typed, string expected)
    {
        Assert.SkipUnless(File.Exists("/usr/bin/fish"), "Needs fish.");
        string said = Ask("/usr/bin/fish", FishCompletion.Of(Root), $"complete -C '{typed}' | string replace -r '\\t.*' ''");
        Assert.Equal(expected, Sorted(said));
    }

    /// <summary>zsh completes at a terminal only: its own functions are put away, and say what they were called with.</summary>
    [Theory]
    [InlineData("rigdaq calibration f", "fit record")]
    [InlineData("rigdaq calibration fit --degree ", "1 2 3")]
    [InlineData("rigdaq report --out pi", "files")]
    public void Zsh_completes_commands_words_and_files(string typed, string expected)
    {
        Assert.SkipUnless(File.Exists("/usr/bin/zsh"), "Needs zsh.");
        string script = ZshCompletion.Of(Root).Replace("_rigdaq \"$@\"\n", "", StringComparison.Ordinal);
        Assert.Equal(expected, Sorted(Ask("/usr/bin/zsh", script, $$"""
            _files() { print files }
            _message() { }
            compadd() { shift; print -l -- "$@" }
            _describe() { [[ $1 == -o ]] && shift; print -l -- ${${(P)2}%%:*} }
            words=({{string.Join(' ', typed.Split(' ').Select(word => $"'{word}'"))}})
            CURRENT=$#words
            PREFIX=$words[CURRENT]
            _rigdaq
            """)));
    }

    [Fact]
    public void Every_command_and_option_of_the_tree_is_in_the_manual_and_man_has_nothing_against_it()
    {
        string page = ManualPage.Of(Root, "1.2.3");
        foreach (ShellCommand command in Root.All.Skip(1).Where(command => command.Children.Count == 0))
            Assert.Contains($".SS rigdaq{command.Path.Replace("-", @"\-", StringComparison.Ordinal)}", page, StringComparison.Ordinal);
        foreach (ShellOption option in Root.All.SelectMany(command => command.Options))
            Assert.Contains(option.Name.Replace("-", @"\-", StringComparison.Ordinal), page, StringComparison.Ordinal);
        Assert.SkipUnless(File.Exists("/usr/bin/man"), "Needs man.");
        using TemporaryFile file = new(page);
        Assert.Equal("", Run("/bin/sh", "-c", $"LC_ALL=C.UTF-8 man --warnings=w -l '{file.Path}' 2>&1 >/dev/null"));
    }

    private static string Sorted(string lines) =>
        string.Join(' ', lines.Split('\n', StringSplitOptions.RemoveEmptyEntries).Order(StringComparer.Ordinal));

    private static string Ask(string shell, string script, string question)
    {
        using TemporaryFile file = new($"{script}\n{question}\n");
        return Run(shell, file.Path);
    }

    private static string Run(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        { RedirectStandardOutput = true, RedirectStandardInput = true, WorkingDirectory = Path.Combine(House.Page.Root(), "docs") };
        start.Environment["HOME"] = Path.GetTempPath();
        using Process process = Process.Start(start)!;
        process.StandardInput.Close();
        string said = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return said;
    }

    private sealed class TemporaryFile : IDisposable
    {
        public TemporaryFile(string text) => File.WriteAllText(Path, text);

        public string Path { get; } = System.IO.Path.GetTempFileName();

        public void Dispose() => File.Delete(Path);
    }
}
