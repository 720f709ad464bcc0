using System.Text.RegularExpressions;
using RigDaq.Tests;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Text;

/// <summary>What counts as a word for people in the code of the program and of its commands.</summary>
public abstract partial class ProgramTextGuard : OnePlaceGuard
{
    // The guard itself: it would see what it is there to see.
    [Theory]
    [InlineData("Description = \"Take the void back.\",", true)]
    [InlineData("throw new InputException($\"{option}: missing.\")", true)]
    [InlineData("known ? figure : \"none\"", true)]
    [InlineData("string[] heads = [\"group\", Prints];", true)]
    [InlineData("? new Finding(\"clock\", true, \"well set\")", true)]
    [InlineData("new(\"--out\") { HelpName = \"FOLDER\" }", false)]
    [InlineData("new Command(\"fit\", TerminalText.FitCommand)", false)]
    [InlineData("new Command(\"fit\", \"Fits.\")", true)]
    [InlineData("json[\"decimalComma\"] = true; node[\"lines\"] = lines;", false)]
    [InlineData("if (format is not (\"svg\" or \"png\"))", false)]
    [InlineData("Within(\"pull.zeroSeconds\", row.Number(\"strength_MPa\"))", false)]
    [InlineData("PageText.Of(\"answers.made\", (\"study\", study.Name))", false)]
    [InlineData("throw new ArgumentException(\"No values.\", nameof(values))", false)]
    public void The_guard_sees_words(string line, bool expected) => Assert.Equal(expected, Words([line]).Any());

    protected override IEnumerable<string> Words(IEnumerable<string> lines) => SourceText.Code(lines)
        .SelectMany(line => SourceText.Literals(Decided().Replace(line, "")))
        .Where(text => SourceText.HasWord(text) && !Name().IsMatch(text.Trim()));

    // A word that code compares with, looks up by, calls a command by, or names a place in a text by is the code's.
    [GeneratedRegex("""(?<=, |\s)\("[a-z]\w*"(?=,\s)|(?:\b(?:is|or|not|case)\s\(?|[=!]=\s)"[^"]*"|\["[^"]*"\]|"[^"]*"(?=\s=>)|\bnew(?:\sCommand)?\("[a-z-]+"(?=, TerminalText\.)""")]
    private static partial Regex Decided();

    // Options, what help calls their values, endings of files, keys of the configuration, columns of files, keys of answers, whole command
    // lines.
    [GeneratedRegex(@"^(?:--[a-z][\w-]*|[A-Z]+|\.[a-z]+|[a-z]\w*(?:\.\w+)+|\w+_\w+|[a-z]+[A-Z]\w*|rigdaq [a-z -]+)$")]
    private static partial Regex Name();
}
