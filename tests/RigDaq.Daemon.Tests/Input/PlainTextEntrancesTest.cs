using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Text;

namespace RigDaq.Daemon.Tests.Input;

/// <summary>
/// Names and reasons with control characters, at each way in from this side: command line, tables, configuration, interactive corrections.
/// (The page's requests: PageRequestTest; packages: TamperedPackageTest; what is kept in the end: PlainNamesTest of the archive.)
/// </summary>
[Collection(nameof(PrintedOutput))]
public sealed class PlainTextEntrancesTest : IDisposable
{
    private const string Clear = "\u001b[2J";
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-plain-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("study", "make", "fan", "--material", "Alder" + Clear, "--condition", "dried")]
    [InlineData("study", "make", "fan", "--material", "Alder", "--condition", "dried\u0007")]
    [InlineData("study", "make", "fan\n", "--material", "Alder", "--condition", "dried")]
    [InlineData("study", "make", "fan", "--material", "Alder\nBirch", "--condition", "dried")]
    [InlineData("study", "make", "fan", "--name", "a\u009bb", "--material", "Alder", "--condition", "dried")]
    [InlineData("study", "void", "fan", "A-1", "--reason", Clear)]
    [InlineData("study", "look", "fan", "A-1", "--layer", Clear)]
    [InlineData("study", "move", "fan", "A-1", "A-2", "--reason", Clear)]
    [InlineData("study", "rename", "fan", "--condition", Clear)]
    [InlineData("export", "fan", "--licence", Clear)]
    [InlineData(Clear)]
    public async Task A_command_line_is_refused_with_the_text_written_out(params string[] arguments)
    {
        (int status, _, string said) = await CommandLine.RunAsync([.. arguments, "--data", Path.Combine(_folder, "data")]);
        Assert.Equal(2, status);
        Assert.DoesNotContain('\u001b', said);
        Assert.DoesNotContain('\u0007', said);
        Assert.DoesNotContain('\u009b', said);
        if (!Directory.Exists(Path.Combine(_folder, "data"))) return;
        using var archive = new RigArchive(Path.Combine(_folder, "data"), TimeProvider.System, NullLogger.Instance);
        Assert.Empty(archive.Studies.All());
    }

    [Theory]
    [InlineData("strength_MPa,material\n51,Al" + Clear + "der\n", "line 2")]
    [InlineData("strength_MPa,material\n51,Alder\n52,bell\u0007\n", "line 3")]
    public async Task A_table_is_refused_at_its_line(string table, string where)
    {
        string file = Path.Combine(_folder, "table.csv");
        File.WriteAllText(file, table);
        Assert.Contains(where, Assert.Throws<InputException>(() => CsvTable.Read(file, "strength_MPa")).Message, StringComparison.Ordinal);
        string data = Path.Combine(_folder, "data");
        Assert.Equal(0,
            (await CommandLine.RunAsync("study", "make", "fan", "--material", "Alder", "--condition", "dried", "--data", data)).Status);
        (int status, _, string said) = await CommandLine.RunAsync("study", "import", "fan", file, "--data", data);
        Assert.Equal(2, status);
        Assert.DoesNotContain('\u001b', said);
    }

    [Theory]
    [InlineData("""{ "name": "bench\u001b[2J" }""")]
    [InlineData("""{ "serial": { "device": "cell\u0007" } }""")]
    [InlineData("""{ "mqtt": { "consumers": ["lake", "a\nb"] } }""")]
    public void A_configuration_is_refused_at_its_key(string json)
    {
        string file = Path.Combine(_folder, "rig.json");
        File.WriteAllText(file, json);
        var fault = Assert.Throws<InputException>(() => OptionsReader.Read(file, new Dictionary<string, string>()));
        Assert.Contains("control characters", fault.Message, StringComparison.Ordinal);
        Assert.All(fault.Message, c => Assert.False(char.IsControl(c)));
    }

    [Fact]
    public void Corrections_of_a_run_are_refused()
    {
        Run run = new() { Head = null!, Ending = PullEnding.Broken, Reason = Sentence.None, EndedAt = default, RevisedAt = default };
        Assert.Throws<RefusalException>(() => RunCorrections.Void(run, VoidKind.RigFault, Clear, default));
        Assert.Throws<RefusalException>(() => RunCorrections.Look(run, new FractureLook { Layer = "3\n1", At = default }, default));
        Assert.Throws<RefusalException>(() => RunCorrections.Look(run, new FractureLook { Appearance = Clear, At = default }, default));
        Assert.NotNull(RunCorrections.Look(run, new FractureLook { Appearance = "flat\nand dull", At = default }, default).Look);
    }

    [Fact]
    public void What_is_shown_is_written_out()
    {
        Assert.Equal("a\\u001b[2J", PlainText.Shown("a" + Clear));
        Assert.Equal("Alder, 210 °C", PlainText.Shown("Alder, 210 °C"));
        Assert.True(PlainText.IsPlain("two\nlines", ofSeveralLines: true));
        Assert.False(PlainText.IsPlain("two\nlines"));
        Assert.False(PlainText.IsPlain("two\u0085lines", ofSeveralLines: true));
    }
}
