using System.Text.Json;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Study;

/// <summary>Earlier results: what was measured here, a study set against an earlier one, its control, and what a package carries of
/// it.</summary>
[Collection(nameof(PrintedOutput))]
public class StudyEarlierTest : IDisposable
{
    private const string Control = "Birch, fan off, 220";
    private readonly string _folder = Path.Combine(Path.GetTempPath(), $"rigdaq-earlier-{Guid.NewGuid():N}");

    public StudyEarlierTest()
    {
        using var archive = new RigArchive(In("data"), TimeProvider.System, NullLogger.Instance);
        PulledStudy.Fill(archive);
        archive.Studies.Save(PulledStudy.Later(), "made");
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Every_group_ever_measured_is_listed_with_its_calibration_and_date()
    {
        JsonElement[] groups = [.. (await Json("study", "earlier")).GetProperty("groups").EnumerateArray()];
        Assert.Equal(24, groups.Length);
        JsonElement pulled = groups.First(g => g.GetProperty("studyId").GetString() == PulledStudy.Id);
        JsonElement calibration = Assert.Single(pulled.GetProperty("calibrations").EnumerateArray());
        Assert.InRange(calibration.GetProperty("standardPercent").GetDouble(), 1e-3, 5);
        Assert.StartsWith("2026-11-02", pulled.GetProperty("from").GetString(), StringComparison.Ordinal);
        Assert.True(pulled.GetProperty("simulated").GetBoolean());
        JsonElement imported = groups.First(g => g.GetProperty("studyId").GetString() == "later");
        Assert.Equal((6, 6), (imported.GetProperty("n").GetInt32(), imported.GetProperty("imported").GetInt32()));
        string text = (await Run("study", "earlier", "--material", "Birch")).Output;
        Assert.Contains("6 specimens of 1 print, 6 imported", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Alder", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_study_set_against_an_earlier_one_with_a_control_in_both_is_corrected_by_it()
    {
        Assert.Equal(0, (await Run("study", "control", "later", Control)).Status);
        Assert.Equal(0, (await Run("study", "control", PulledStudy.Id, Control)).Status);
        JsonElement against = (await Json("study", "against", "later", PulledStudy.Id)).GetProperty("against")[0];
        Assert.Equal(PulledStudy.Id, against.GetProperty("studyId").GetString());
        JsonElement[] answers = await Earlier("data");
        JsonElement corrected = answers.First(a => a.GetProperty("material").GetString() == "Alder"
            && a.GetProperty("setting").ValueKind == JsonValueKind.Number);
        Assert.True(corrected.GetProperty("correctedByControl").GetBoolean());
        string sentence = corrected.GetProperty("sentence").GetString()!;
        Assert.Contains("the change of the control (Birch, fan off, 220 °C), pulled in both, is taken off", sentence,
            StringComparison.Ordinal);
        Assert.Contains("were imported, without a trace", sentence, StringComparison.Ordinal);
        Assert.Contains(answers, a => a.GetProperty("setting").ValueKind == JsonValueKind.Null
            && a.GetProperty("sentence").GetString()!.Contains("on average over", StringComparison.Ordinal));

        string sessions = (await Run("study", "earlier", "--control", Control)).Output;
        Assert.Equal(2, sessions.Split('\n').Count(line => line.Contains("specimen", StringComparison.Ordinal)));
        Assert.Contains("% against the sessions before", sessions, StringComparison.Ordinal);
        Assert.Equal(0, (await Run("report", "later", "--out", In("report.html"))).Status);
        string report = await File.ReadAllTextAsync(In("report.html"), TestContext.Current.CancellationToken);
        foreach (string words in new[] { "Set against", "Against ", "the change of the control is taken off",
            "The control over the sessions", "open mark: imported strengths", "†" })
            Assert.Contains(words, report, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_package_carries_what_the_study_was_set_against_and_another_bench_gives_the_same_answers()
    {
        Assert.Equal(0, (await Run("study", "against", "later", PulledStudy.Id)).Status);
        Assert.Equal(0,
            (await CommandLine.RunAsync("export", "later", "--out", In("package"), "--licence", "CC0-1.0", "--data", In("data"))).Status);
        string[] rows = await File.ReadAllLinesAsync(In("package", "earlier.csv"), TestContext.Current.CancellationToken);
        Assert.Equal("study_id,study,material,condition,setting,strength_MPa,print,imported,pooled_because", rows[0]);
        Assert.Equal(46, rows.Length - 1);
        Assert.Equal(0, (await CommandLine.RunAsync("import", In("package"), "--data", In("other"))).Status);
        Assert.Equal((await Earlier("data")).Select(a => a.GetRawText()), (await Earlier("other")).Select(a => a.GetRawText()));
    }

    [Fact]
    public async Task The_scatter_of_an_earlier_study_is_used_and_left_out_when_it_is_said()
    {
        // A study of two prints each shows how prints scatter; “later” has one print of each.
        Directory.CreateDirectory(_folder);
        var random = new Random(3);
        await File.WriteAllLinesAsync(
            In("two.csv"),
            [
                "material,condition,setting,strength_MPa,print",
                .. from fan in new[] { "fan off", "fan on" } from print in new[] { 1, 2 } let shift = WorkshopCalibration.Normal(random)
                    from setting in new[] { 205, 220, 235 } from piece in Enumerable.Range(0, 5)
                   select FormattableString.Invariant($"Alder,{fan},{setting},{31 + shift + WorkshopCalibration.Normal(random):0.00},{fan} {print}"),
            ],
            TestContext.Current.CancellationToken);
        Assert.Equal(0, (await Run("study", "import", "two-each", In("two.csv"), "--apply")).Status);
        Assert.Equal(0, (await Run("study", "against", "later", "two-each")).Status);
        JsonElement with = (await Json("study", "show", "later")).GetProperty("answer");
        Assert.Equal("earlier studies", with.GetProperty("model").GetProperty("printScatterFrom").GetString());
        Assert.Equal(2, with.GetProperty("model").GetProperty("printDegreesOfFreedom").GetDouble());
        Assert.Contains(with.GetProperty("answers").EnumerateArray(), a => a.GetProperty("question").GetString() == "condition"
            && a.GetProperty("about").GetString() == "prints made alike");

        JsonElement against = (await Json("study", "against", "later", "two-each", "--no-scatter")).GetProperty("against")[0];
        Assert.False(against.GetProperty("givesScatter").GetBoolean());
        JsonElement without = (await Json("study", "show", "later")).GetProperty("answer");
        Assert.Equal(JsonValueKind.Null, without.GetProperty("model").GetProperty("printScatterFrom").ValueKind);
        Assert.DoesNotContain(without.GetProperty("answers").EnumerateArray(), a => a.GetProperty("question").GetString() == "condition"
            && a.GetProperty("about").GetString() == "prints made alike");
        Assert.Contains(without.GetProperty("answers").EnumerateArray(), a => a.GetProperty("question").GetString() == "earlier study");
    }

    [Fact]
    public async Task A_control_is_taken_back_with_remove()
    {
        Assert.Equal(0, (await Run("study", "control", "later", Control)).Status);
        Assert.Single((await Json("study", "earlier")).GetProperty("controls").EnumerateArray());
        Assert.Contains("later has no control", (await Run("study", "control", "later", "--remove")).Said, StringComparison.Ordinal);
        Assert.Empty((await Json("study", "earlier")).GetProperty("controls").EnumerateArray());
        Assert.Equal(2, (await Run("study", "control", "later", "--remove")).Status); // There is nothing to change.
    }

    [Fact]
    public async Task Strengths_are_pooled_only_for_a_reason_which_is_said_everywhere()
    {
        Assert.Equal(0, (await Run("study", "against", "later", PulledStudy.Id, "--pool", "same spool, same week")).Status);
        JsonElement show = await Json("study", "show", "later");
        Assert.Contains(show.GetProperty("warnings").EnumerateArray(),
            w => w.GetString()!.Contains("are pooled with this study's, because: same spool, same week", StringComparison.Ordinal));
        JsonElement group = show.GetProperty("answer").GetProperty("groups").EnumerateArray().First();
        Assert.Equal(2, group.GetProperty("prints").GetInt32());
        Assert.InRange(group.GetProperty("n").GetInt32(), 9, 10);
        Assert.DoesNotContain(show.GetProperty("answer").GetProperty("answers").EnumerateArray(),
            a => a.GetProperty("question").GetString() == "earlier study");
        Assert.Contains("pooled with kestrel-lane-fan: same spool, same week", (await Run("study", "history", "later")).Output,
            StringComparison.Ordinal);
        Assert.Equal(0, (await Run("study", "against", "later", PulledStudy.Id, "--remove")).Status);
        Assert.Equal(1, (await Json("study", "show", "later")).GetProperty("answer").GetProperty("groups")[0].GetProperty("prints")
            .GetInt32());
    }

    [Theory]
    [InlineData("cannot be set against itself", "against", "later", "later")]
    [InlineData("There is no study sooner", "against", "later", "sooner")]
    [InlineData("is not set against", "against", "later", PulledStudy.Id, "--remove")]
    [InlineData("There are: Alder, fan off, 205", "control", "later", "Cedar, fan off, 205")]
    [InlineData("or give --remove", "control", "later")]
    [InlineData("no group", "earlier", "--control", "Cedar")]
    public async Task What_cannot_be_is_said(string message, params string[] arguments)
    {
        (int status, _, string said) = await Run(["study", .. arguments]);
        Assert.Equal(2, status);
        Assert.Contains(message, said, StringComparison.Ordinal);
    }

    private Task<(int Status, string Output, string Said)> Run(params string[] arguments)
        => CommandLine.RunAsync([.. arguments, "--data", In("data")]);

    private async Task<JsonElement> Json(params string[] arguments)
    {
        (int status, string output, string said) = await Run([.. arguments, "--json"]);
        Assert.True(status == 0, said);
        return JsonDocument.Parse(output).RootElement;
    }

    private async Task<JsonElement[]> Earlier(string data)
    {
        (int status, string output, string said) = await CommandLine.RunAsync("study", "show", "later", "--json", "--data", In(data));
        Assert.True(status == 0, said);
        return [.. JsonDocument.Parse(output).RootElement.GetProperty("answer").GetProperty("answers").EnumerateArray()
            .Where(a => a.GetProperty("question").GetString() == "earlier study")];
    }

    private string In(params string[] names) => Path.Combine([_folder, .. names]);
}
