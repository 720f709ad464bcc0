using System.Globalization;
using System.Text;
using System.Text.Json;
using RigDaq.Core.Callers;
using RigDaq.Core.Runs;
using RigDaq.Core.Pulls;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Study;

/// <summary><c>rigdaq study curves</c>: a folder of old recordings becomes a study with groups, marks and a report.</summary>
[Collection(nameof(PrintedOutput))]
public class StudyCurvesTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-old-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string Data => Path.Combine(_folder, "data");

    [Fact]
    public async Task A_table_makes_groups_strengths_marks_and_a_report()
    {
        string table = Folder();
        (int status, string output, string said) = await CommandLine.RunAsync("study", "curves", "old", "--table", table, "--reference",
            "dry", "--data", Data, "--json");
        Assert.Equal((0, ""), (status, said));
        JsonElement[] runs = [.. JsonDocument.Parse(output).RootElement.GetProperty("runs").EnumerateArray()];
        Assert.Equal(["a.csv", "b.csv", "c.csv", "d.csv", "two.csv", "two.csv"], runs.Select(run => run.GetProperty("file").GetString()));
        foreach (JsonElement run in runs)
        {
            Assert.Equal("broken", run.GetProperty("ending").GetString());
            Assert.Contains("without a calibration of ours", run.GetProperty("warnings")[0].GetString(), StringComparison.Ordinal);

            // The peak is the file's: 10 × 4 mm take it.
            Assert.Equal(run.GetProperty("peakForceNewtons").GetDouble() / 40, run.GetProperty("strengthMegapascals").GetDouble(), 1e-9);
        }

        // The same figures as from the file itself.
        (_, string trace, _) = await CommandLine.RunAsync("trace", Path.Combine(_folder, "a.csv"), "--json");
        Assert.Equal(JsonDocument.Parse(trace).RootElement.GetProperty("peakForceNewtons").GetDouble(),
            runs[0].GetProperty("peakForceNewtons").GetDouble(), 1e-4);
        using (StudyStore store = StudyStore.Open(Data))
        {
            Assert.All(store.Archive.Runs.OfStudy("old"), run => Assert.Equal(64, run.Head.Recording!.Sha256.Length));
            Assert.Equal(["dry", "wet"], store.Require("old").Prints.Select(print => print.Condition).Distinct());
        }

        string report = Path.Combine(_folder, "report.html");
        Assert.Equal(0, (await CommandLine.RunAsync("report", "old", "--data", Data, "--out", report)).Status);
        string html = await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken);
        Assert.Contains("6 of 6 runs were read from files of other programs", html, StringComparison.Ordinal);
        Assert.DoesNotContain("0000000000000000", html, StringComparison.Ordinal);

        // Nothing is said of a pull, a rig or references that nobody here knows.
        Assert.Contains("· read from files ", html, StringComparison.Ordinal);
        Assert.DoesNotContain("xtrapolated", html, StringComparison.Ordinal);
        Assert.DoesNotContain("pulled on this rig", html, StringComparison.Ordinal);

        // By whom something was changed stands in the report, unless it is left out.
        using (StudyStore store = StudyStore.Open(Data))
        {
            store.Archive.Who = () => new By("Noor", By.Terminal);
            Run one = store.Archive.Runs.OfStudy("old")[0];
            store.Archive.Runs.Revise(RunCorrections.Void(one, VoidKind.GripFailure, "at the jaw", DateTimeOffset.UnixEpoch), []);
        }

        Assert.Equal(0, (await CommandLine.RunAsync("report", "old", "--data", Data, "--out", report)).Status);
        Assert.Contains("Noor", await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.Equal(0, (await CommandLine.RunAsync("report", "old", "--data", Data, "--out", report, "--no-names")).Status);
        Assert.DoesNotContain("Noor", await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_package_takes_the_recordings_along_and_back()
    {
        string table = Folder(), package = Path.Combine(_folder, "package"), other = Path.Combine(_folder, "other");
        await CommandLine.RunAsync("study", "curves", "old", "--table", table, "--data", Data);
        Assert.Equal(0, (await CommandLine.RunAsync("export", "old", "--data", Data, "--out", package)).Status);
        string[] lines = await File.ReadAllLinesAsync(Path.Combine(package, "runs.csv"), TestContext.Current.CancellationToken);
        Assert.EndsWith(",two.csv,F1 (N)", lines[5], StringComparison.Ordinal);
        Assert.Equal(0, (await CommandLine.RunAsync("import", package, "--data", other)).Status);
        using StudyStore before = StudyStore.Open(Data), after = StudyStore.Open(other);
        Assert.Equal(before.Archive.Runs.OfStudy("old").Select(run => (run.Head.Recording, run.Reading?.PeakForceNewtons)),
            after.Archive.Runs.OfStudy("old").Select(run => (run.Head.Recording, run.Reading?.PeakForceNewtons)));
    }

    [Fact]
    public async Task Curves_that_are_there_already_stay_and_specimens_can_be_measured_later()
    {
        Folder();
        string file = Path.Combine(_folder, "a.csv");
        string[] words = ["study", "curves", "old", file, "--material", "Alder", "--condition", "dry", "--data", Data];
        Assert.Contains("1 run added", (await CommandLine.RunAsync(words)).Output, StringComparison.Ordinal);
        (int status, string output, string said) = await CommandLine.RunAsync(words);
        Assert.Equal(0, status);
        Assert.Contains("in the study already", said, StringComparison.Ordinal);
        Assert.Contains("No new run", output, StringComparison.Ordinal);
        (_, _, said) = await CommandLine.RunAsync("study", "curves", "old", Path.Combine(_folder, "b.csv"), "--material", "Alder",
            "--condition", "dry", "--width", "10", "--width", "10.2", "--thickness", "4", "--data", Data);
        using StudyStore store = StudyStore.Open(Data);
        Assert.Null(store.Archive.Runs.OfStudy("old")[0].Strength);
        Assert.Equal(40.4, store.Archive.Runs.OfStudy("old")[1].Strength!.AreaSquareMillimetres, 1e-9);
    }

    [Fact]
    public async Task What_a_person_saw_of_a_piece_goes_before_what_its_force_shows()
    {
        // The recording stops in the fall: 30 % are left in its last samples.
        string cut = string.Join('\n', Pull("Time (s),Load (N)", 1).Split('\n').Take(501));
        Write("a.csv", cut + "\n5.01,240\n5.02,240\n");
        Write("b.csv", cut + "\n5.01,241\n5.02,240\n");
        string table =
            Write("seen.csv", "file;material;condition;ending;width_mm;thickness_mm\na.csv;Alder;dry;Broken;10;4\nb.csv;Alder;dry;;10;4\n");
        (int status, string output, string said) = await CommandLine.RunAsync("study", "curves", "old", "--table", table, "--data", Data,
            "--json");
        Assert.Equal(0, status);
        JsonElement[] runs = [.. JsonDocument.Parse(output).RootElement.GetProperty("runs").EnumerateArray()];
        Assert.Equal(["broken", "partly broken"], runs.Select(run => run.GetProperty("ending").GetString()));
        Assert.Contains(runs[0].GetProperty("warnings").EnumerateArray(), warning =>
            warning.GetString()!.Contains("its force alone reads partly broken", StringComparison.Ordinal));
        using (StudyStore store = StudyStore.Open(Data))
        {
            Run[] kept = [.. store.Archive.Runs.OfStudy("old")];
            Assert.Equal([PullEnding.Broken, PullEnding.PartlyBroken], kept.Select(run => run.Ending));
            Assert.Equal(20, kept[0].Strength!.Megapascals, 0.5);
        }

        (status, output, said) = await CommandLine.RunAsync(
            "study", "curves", "more", Path.Combine(_folder, "b.csv"), "--material", "Alder", "--condition", "dry", "--ending", "broken",
                "--data", Data);
        Assert.Equal((0, ""), (status, said));
        Assert.Contains("b.csv → I01-01: broken", output, StringComparison.Ordinal);
        (_, _, said) = await CommandLine.RunAsync("study", "curves", "third", Path.Combine(_folder, "b.csv"), "--material", "Alder",
            "--condition", "dry", "--data", Data);
        Assert.Contains("only broken ones are compared", said, StringComparison.Ordinal);
        (status, _, said) = await CommandLine.RunAsync("study", "curves", "fourth", Path.Combine(_folder, "b.csv"), "--material", "Alder",
            "--condition", "dry", "--ending", "snapped", "--data", Data);
        Assert.Equal(2, status);
        Assert.Contains("“snapped” is no ending; broken, partly broken, slipped out, unbroken", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task All_faults_are_told_at_once_and_nothing_is_kept()
    {
        Folder();
        string table =
            Write("bad.csv",
            "file;material;condition;width_mm;thickness_mm\na.csv;Alder;dry;10;4\na.csv;Alder;dry;10;4\nb.csv;;dry;wide;4\nnone.csv;Alder;wet;10;4\ntwo.csv;Alder;wet;-1;4\n");
        (int status, _, string said) = await CommandLine.RunAsync("study", "curves", "old", "--table", table, "--data", Data);
        Assert.Equal(2, status);
        foreach (string fault in new[] { "line 3, column file: a.csv stands in line 2", "line 4, column material: empty",
            "line 4, column width_mm", "line 6" }) Assert.Contains(fault, said, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Data));
        table = Write("bad.csv", "file,material,condition\na.csv,Alder,dry\nnone.csv,Alder,wet\ntwo.csv,Alder,wet\n");
        (status, _, said) = await CommandLine.RunAsync("study", "curves", "old", "--table", table, Path.Combine(_folder, "a.csv"),
            Path.Combine(_folder, "b.csv"), Path.Combine(_folder, "two.csv"), "--data", Data);
        Assert.Equal(2, status);
        foreach (string fault in new[] { "no file none.csv was given", "the file holds 2 curves", "b.csv: " }) Assert.Contains(fault, said,
            StringComparison.Ordinal);
        (status, _, said) = await CommandLine.RunAsync("study", "curves", "Old study!", Path.Combine(_folder, "a.csv"), "--material", "A",
            "--condition", "b", "--data", Data);
        Assert.Equal(2, status);
    }

    /// <summary>Recordings of two conditions, one file with two curves, and the table that says whose they are.</summary>
    private string Folder()
    {
        foreach ((string name, double strength) in new[] { ("a", 1.0), ("b", 1.05), ("c", 0.8), ("d", 0.85) }) Write($"{name}.csv",
            Pull("Time (s),Load (kN)", strength / 1000));
        Write("two.csv", Pull("t (s),F1 (N),F2 (N)", 0.9, 0.95));
        return
            Write("table.csv",
            "file,curve,material,condition,width_mm,thickness_mm\na.csv,,Alder,dry,10,4\nb.csv,,Alder,dry,10,4\nc.csv,,Alder,wet,10,4\nd.csv,,Alder,wet,10,4\n"
            + "two.csv,F1 (N),Alder,wet,10,4\ntwo.csv,F2 (N),Alder,dry,10,4\n");
    }

    private string Write(string name, string text)
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>200 N/s from 1 s to a break at 5 s, 100 samples/s, times a factor each.</summary>
    private static string Pull(string header, params double[] factors)
    {
        var text = new StringBuilder(header).Append('\n');
        for (int i = 0; i < 700; i++)
        {
            double time = i / 100.0, force = (time is < 1 or > 5 ? 0 : 200 * (time - 1)) + (i % 3);
            text.Append(CultureInfo.InvariantCulture, $"{time:F2},")
                .AppendJoin(',', factors.Select(factor => (factor * force).ToString("F7", CultureInfo.InvariantCulture))).Append('\n');
        }

        return text.ToString();
    }
}
