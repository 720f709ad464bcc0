using System.Text;
using System.Text.Json;

namespace RigDaq.Daemon.Tests.Trace;

/// <summary><c>rigdaq trace</c> on tables that other programs write; how they are read is tested in RigDaq.Tables.Tests.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class ForeignTraceTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-foreign-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    // contract.md: a table of ours keeps its answer; what it was read as is only said of others.
    [Fact]
    public async Task A_table_of_ours_is_answered_as_before()
    {
        string ours = Write("ours.csv", Pull("time_s,force_N", ",", "."));
        (int status, string output, _) = await CommandLine.RunAsync("trace", ours, "--json");
        Assert.Equal(0, status);
        JsonElement answer = JsonDocument.Parse(output).RootElement;
        Assert.False(answer.TryGetProperty("reading", out _) || answer.TryGetProperty("curve", out _));
        string other = Write("other.csv", Pull("Zeit [s];Kraft [N]", ";", ","));
        (_, string read, _) = await CommandLine.RunAsync("trace", other, "--json");
        JsonElement same = JsonDocument.Parse(read).RootElement;
        foreach (JsonProperty property in answer.EnumerateObject().Where(property => property.Name != "file"))
            Assert.Equal(property.Value.GetRawText(), same.GetProperty(property.Name).GetRawText());
        JsonElement column = same.GetProperty("reading").GetProperty("columns")[1];
        Assert.Equal(("Kraft [N]", "force", "N"),
            (column.GetProperty("name").GetString(), column.GetProperty("role").GetString(), column.GetProperty("unit").GetString()));
        Assert.Contains("“kraft” is in its name", column.GetProperty("why").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Gives_one_answer_a_curve_and_draws_each()
    {
        string file = Write("two.csv", Pull("t (s),F1 (N),F2 (N)", ",", ".", forces: 2));
        (int status, string output, _) = await CommandLine.RunAsync("trace", file, "--json", "--picture",
            Path.Combine(_folder, "pictures"));
        Assert.Equal(0, status);
        JsonElement[] answers =
            [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonDocument.Parse(line).RootElement)];
        Assert.Equal(["F1 (N)", "F2 (N)"], answers.Select(answer => answer.GetProperty("curve").GetString()));
        Assert.All(answers, answer => Assert.Equal(file, answer.GetProperty("file").GetString()));
        Assert.Equal(2, answers.Select(answer => answer.GetProperty("picture").GetString()).Where(File.Exists).Distinct().Count());
        Assert.Equal(2 * answers[0].GetProperty("peakForceNewtons").GetDouble(), answers[1].GetProperty("peakForceNewtons").GetDouble(),
            1e-6);
        (_, string words, _) = await CommandLine.RunAsync("trace", file);
        Assert.Contains("two.csv, F2 (N): broken", words, StringComparison.Ordinal);
        Assert.Contains("force: column 3 “F2 (N)” in N", words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_layout_is_kept_under_a_name_and_used_again()
    {
        string file = Write("a.csv", Pull("when;what", ";", ","));
        (int status, _, string said) = await CommandLine.RunAsync(
            "trace", file, "--force-column", "what", "--time-column", "1", "--force-unit", "kN", "--time-unit", "s", "--save-layout",
                "old bench", "--data", _folder);
        Assert.Equal(0, status);
        Assert.Contains("Layout “old bench” saved", said, StringComparison.Ordinal);
        (status, string output, _) = await CommandLine.RunAsync("trace", file, "--layout", "old bench", "--data", _folder, "--json");
        Assert.Equal(0, status);
        Assert.InRange(JsonDocument.Parse(output).RootElement.GetProperty("peakForceNewtons").GetDouble(), 790_000, 810_000);
        (status, _, said) = await CommandLine.RunAsync("trace", file, "--layout", "new bench", "--data", _folder);
        Assert.Equal(2, status);
        Assert.Contains("There is no layout called “new bench”. Layouts: old bench.", said, StringComparison.Ordinal);
        (status, _, said) = await CommandLine.RunAsync("trace", file, "--save-layout", "../x", "--data", _folder);
        Assert.Equal(2, status);
        await File.WriteAllTextAsync(Path.Combine(_folder, "layouts", "old bench.json"), "{\"columns\":3}",
            TestContext.Current.CancellationToken);
        (status, _, said) = await CommandLine.RunAsync("trace", file, "--layout", "old bench", "--data", _folder);
        Assert.Equal(2, status);
        Assert.Contains("cannot be read", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_preview_shows_the_proposal_with_its_reasons_and_every_fault_and_does_nothing_else()
    {
        string file = Write("p.csv", Pull("when;Kraft [kN];what", ";", ",", forces: 2));
        (int status, string output, string said) = await CommandLine.RunAsync("trace", file, "--preview", "--save-layout", "no", "--data",
            _folder);
        Assert.Equal((2, ""), (status, said));
        foreach (string line in new[]
        {
            "p.csv: cannot be read so", "read as: utf-8, between cells semicolon, decimal comma; names in line 1, numbers from line 2",
            "force: column 2 “Kraft [kN]” in kN: ", "not used: column 3 “what”: ", "when | Kraft [kN] | what", "0,000 | 0,000 | 0,000",
            "fault: ", "--time-column",
        }) Assert.Contains(line, output, StringComparison.Ordinal);
        Assert.DoesNotContain("peak", output, StringComparison.Ordinal);
        (status, output, _) = await CommandLine.RunAsync("trace", file, "--preview", "--time-column", "1", "--time-unit", "s", "--json");
        Assert.Equal(0, status);
        JsonElement answer = JsonDocument.Parse(output).RootElement;
        Assert.Equal(700, Assert.Single(answer.GetProperty("curves").EnumerateArray().ToArray()).GetProperty("samples").GetInt32());
        Assert.Equal(["time", "force", null], answer.GetProperty("columns").EnumerateArray()
            .Select(column => column.GetProperty("role").GetString()));
        Assert.Empty(answer.GetProperty("faults").EnumerateArray().ToArray());
        Assert.False(Directory.Exists(Path.Combine(_folder, "layouts")));
        (status, output, _) = await CommandLine.RunAsync("trace", Write("ours.csv", Pull("time_s,force_N", ",", ".")),
            Path.Combine(_folder, "none.csv"), "--preview");
        Assert.Equal(2, status);
        Assert.Contains("ours.csv: would be read as 1 curve", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task All_faults_of_a_table_of_ours_are_told_at_once()
    {
        (int status, _, string said) = await CommandLine.RunAsync("trace",
            Write("t.csv", "time_s,force_N\n0,1\n0.1,x\n0.2,3,4\n0.1,5\n0.3,1e400\n"));
        Assert.Equal(2, status);
        foreach (string fault in new[] { "line 3, column force_N", "line 4: 3 cells", "line 6, column force_N" }) Assert.Contains(fault,
            said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0.6", 0.6)]
    [InlineData("30mm/min", 0.5)]
    [InlineData("6 in/min", 2.54)]
    [InlineData("-1", null)]
    [InlineData("fast", null)]
    public async Task Takes_a_speed_with_its_unit(string speed, double? millimetresPerSecond)
    {
        string file = Write("p.csv", "Position (mm),Load (N)\n0,0\n1,1\n2,5\n3,9\n");
        (int status, string output, string said) = await CommandLine.RunAsync("trace", file, $"--speed={speed}", "--json");
        Assert.Equal(millimetresPerSecond is null ? 2 : 0, status);
        if (millimetresPerSecond is { } known) Assert.Equal(known, JsonDocument.Parse(output).RootElement.GetProperty("sampleRateHertz")
            .GetDouble(), 1e-9);
        else Assert.Contains("--speed", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Our_layout_in_another_encoding_is_read_all_the_same()
    {
        string file = Path.Combine(_folder, "l.csv");
        await File.WriteAllBytesAsync(file, Encoding.Latin1.GetBytes("# Prüfling 3\n" + Pull("time_s,force_N", ",", ".")),
            TestContext.Current.CancellationToken);
        (int status, string output, _) = await CommandLine.RunAsync("trace", file, "--json");
        Assert.Equal(0, status);
        Assert.Equal("windows-1252", JsonDocument.Parse(output).RootElement.GetProperty("reading").GetProperty("encoding").GetString());
    }

    private string Write(string name, string text)
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>200 N/s from 1 s to a break at 5 s, 100 samples/s.</summary>
    private static string Pull(string header, string separator, string mark, int forces = 1)
    {
        var text = new StringBuilder(header).Append('\n');
        for (int i = 0; i < 700; i++)
        {
            double time = i / 100.0;
            double force = (time is < 1 or > 5 ? 0 : 200 * (time - 1)) + (i % 3);
            string cells = string
                .Join('|', new[] { time }.Concat(Enumerable.Range(1, forces).Select(n => n * force))
                .Select(value => FormattableString.Invariant($"{value:F3}")));
            text.Append(cells.Replace(".", mark, StringComparison.Ordinal).Replace("|", separator, StringComparison.Ordinal)).Append('\n');
        }

        return text.ToString();
    }
}
