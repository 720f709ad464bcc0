using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace RigDaq.Daemon.Tests.Trace;

/// <summary>Tests that look at what a command prints: the console is the process's own, so they run one at a time.</summary>
[CollectionDefinition(nameof(PrintedOutput), DisableParallelization = true)]
public sealed class PrintedOutput;

[Collection(nameof(PrintedOutput))]
public sealed class TraceCommandTest : IDisposable
{
    // contract.md, "trace": these stay.
    private static readonly string[] Promised =
    [
        "file", "ending", "sampleRateHertz", "noiseNewtons", "zeroNewtons", "peakForceNewtons", "rawPeakForceNewtons",
        "peakTimeSeconds", "breakForceNewtons", "breakTimeSeconds", "loadingRateNewtonsPerSecond", "underReadNewtons",
        "loadDrops", "spikesRemoved", "samplesLost", "warnings",
    ];

    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-trace-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Gives_one_answer_a_line_in_the_order_given_and_the_worst_status()
    {
        string good = Pull("good.csv", 1000, counts: false);
        string bad = Write("bad.csv", "time_s,force_N\n0,1\n0.1,1;5\n");
        string counted = Pull("counted.csv", 80, counts: true);
        string calibration = Write("calibration.json", """{"degree":1,"coefficients":[0.002],"class":null}""");
        (int status, string output, string said) = await CommandLine.RunAsync("trace", good, bad, counted, "--calibration", calibration,
            "--json");
        Assert.Equal(2, status);
        JsonElement[] answers =
            [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonDocument.Parse(line).RootElement)];
        Assert.Equal([good, bad, counted], answers.Select(answer => answer.GetProperty("file").GetString()));
        Assert.All(Promised, name => Assert.True(answers[0].TryGetProperty(name, out _), name));
        Assert.Equal("broken", answers[0].GetProperty("ending").GetString());
        Assert.InRange(answers[0].GetProperty("peakForceNewtons").GetDouble(), 799, 801);
        Assert.InRange(answers[0].GetProperty("breakTimeSeconds").GetDouble(), 4.998, 5.0004);
        JsonElement drop = Assert.Single(answers[0].GetProperty("loadDrops").EnumerateArray());
        Assert.InRange(drop.GetProperty("timeSeconds").GetDouble(), 2.99, 3.01);
        Assert.InRange(drop.GetProperty("depthNewtons").GetDouble(), 95, 105);
        Assert.Equal(["file", "error"], answers[1].EnumerateObject().Select(property => property.Name));
        Assert.Contains("line 3, column force_N", answers[1].GetProperty("error").GetString(), StringComparison.Ordinal);
        Assert.InRange(answers[2].GetProperty("peakForceNewtons").GetDouble(), 797, 803);
        Assert.Equal(2, answers[2].GetProperty("zeroNewtons").GetDouble(), 0.2);
        Assert.Contains("line 3, column force_N", said, StringComparison.Ordinal);
    }

    // 1 lbf = 4.4482216 N (NIST SP 811, appendix B.8).
    [Fact]
    public async Task Says_it_in_pounds_where_that_was_chosen_and_tells_machines_newtons_all_the_same()
    {
        string file = Pull("a.csv", 1000, counts: false);
        (int status, string output, _) = await CommandLine.RunAsync("trace", file, "--units", "lbf");
        Assert.Equal(0, status);
        Match peak = Regex.Match(output, @"peak force (?<value>[\d.]+) lbf");
        (_, string json, _) = await CommandLine.RunAsync("trace", file, "--units", "lbf", "--json");
        double newtons = JsonDocument.Parse(json).RootElement.GetProperty("peakForceNewtons").GetDouble();
        Assert.InRange(newtons, 799, 801);
        Assert.Equal(newtons / 4.4482216, double.Parse(peak.Groups["value"].Value, CultureInfo.InvariantCulture), 0.06);
        Assert.DoesNotMatch(@"\d N\b", output);
        (status, _, string said) = await CommandLine.RunAsync("trace", file, "--units", "kg");
        Assert.Equal(2, status);
        Assert.Contains("--units: “kg” is not known; expected N, kgf or lbf", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Says_it_in_words_without_json()
    {
        (int status, string output, _) = await CommandLine.RunAsync("trace", Pull("a.csv", 1000, counts: false));
        Assert.Equal(0, status);
        Assert.Contains("a.csv: broken", output, StringComparison.Ordinal);
        Assert.Contains("load drop of ", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("time_s,volts\n0,1\n", "the header lacks a column force_N or counts")]
    [InlineData("time_s,force_N,counts\n0,1,1\n", "the header names both force_N and counts")]
    [InlineData("time_s,counts\n0,1\n", "--calibration")]
    [InlineData("time_s,force_N\n0.1,1\n0,1\n", "line 3, column time_s: 0 lies before")]
    [InlineData("time_s,force_N\n0,NaN\n", "line 2, column force_N")]
    [InlineData("", "empty; a header line was expected")]
    public async Task Names_what_is_wrong_with_a_file(string text, string expected)
    {
        (int status, string output, string said) = await CommandLine.RunAsync("trace", Write("t.csv", text), "--json");
        Assert.Equal(2, status);
        Assert.Contains("\"error\":", output, StringComparison.Ordinal);
        Assert.Contains(expected, said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{"degree":1,"coefficients":[3,0.002]}""", "fitted with --constant")]
    [InlineData("""{"degree":1}""", "key coefficients")]
    [InlineData("""{"coefficients":[0.002]}""", "key degree")]
    [InlineData("""{"degree":2,"coefficients":[0]}""", "do not make degree 2")]
    [InlineData("""{"degree":1,"coefficients":["a"]}""", "not a number in the list")]
    [InlineData("degree 1", "not JSON")]
    public async Task Names_what_is_wrong_with_a_calibration(string text, string expected)
    {
        (int status, _, string said) = await CommandLine.RunAsync("trace", Pull("a.csv", 80, counts: true), "--calibration",
            Write("c.json", text));
        Assert.Equal(2, status);
        Assert.Contains(expected, said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--remaining", "0")]
    [InlineData("--remaining", "x")]
    [InlineData("--fall", "0")]
    [InlineData("--preload", "-1")]
    [InlineData("--colour", "red")]
    public async Task Refuses_options_out_of_range(string option, string value)
    {
        (int status, _, string said) = await CommandLine.RunAsync("trace", Pull("a.csv", 80, counts: false), $"{option}={value}");
        Assert.NotEqual(0, status);
        Assert.Contains(option, said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_trace_without_a_pull_is_an_answer_not_an_error()
    {
        (int status, string output, _) = await CommandLine.RunAsync("trace",
            Write("flat.csv", "time_s,force_N\n0,1\n0.1,1\n0.2,1\n0.3,1\n0.4,1\n0.5,1\n"), "--json");
        Assert.Equal(0, status);
        JsonElement answer = JsonDocument.Parse(output).RootElement;
        Assert.Equal("no contact", answer.GetProperty("ending").GetString());
        Assert.Equal(JsonValueKind.Null, answer.GetProperty("peakForceNewtons").ValueKind);
    }

    [Fact]
    public async Task Draws_a_picture_of_each_trace()
    {
        string folder = Path.Combine(_folder, "pictures");
        Directory.CreateDirectory(Path.Combine(_folder, "other"));
        string one = Pull("a.csv", 1000, counts: false);
        File.Copy(one, Path.Combine(_folder, "other", "a.csv"));
        (int status, string output, _) = await CommandLine.RunAsync("trace", one, Path.Combine(_folder, "other", "a.csv"), "--picture",
            folder, "--json");
        Assert.Equal(0, status);
        Assert.Contains("a-2.svg", output, StringComparison.Ordinal);
        string svg = await File.ReadAllTextAsync(Path.Combine(folder, "a.svg"), TestContext.Current.CancellationToken);
        Assert.All(["a: broken", "peak 800", "force at break", "load drop", "contact"],
            text => Assert.Contains(text, svg, StringComparison.Ordinal));
        Assert.True(File.Exists(Path.Combine(folder, "a-2.svg")));
    }

    private string Write(string name, string text)
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>200 N/s from 1 s to a break just after 5 s, with a drop of 100 N at 3 s that is made up for.</summary>
    private string Pull(string name, double rate, bool counts)
    {
        var random = new Random(1);
        var text = new StringBuilder("# bench\ntime_s,").Append(counts ? "counts" : "force_N").Append('\n');
        for (int i = 0; i < 7 * rate; i++)
        {
            double time = i / rate;
            double force = time is < 1 or > 5.0003 ? 0 : 200 * (time - 1);
            if (rate > 500 && time is > 3 and < 3.1) force -= 100 * (1 - ((time - 3) / 0.1));
            force += (random.NextDouble() - 0.5) * 1.5;
            string value = counts ? $"{Math.Round(1000 + (force / 0.002))}" : force.ToString("F4", CultureInfo.InvariantCulture);
            text.Append(CultureInfo.InvariantCulture, $"{time:F6},{value}\n");
        }

        return Write(name, text.ToString());
    }
}
