using System.Globalization;
using System.Text;
using System.Text.Json;

namespace RigDaq.Daemon.Tests.Trace;

/// <summary>The machine gives 0.5 µm/N, the bar 0.0125 µm/N (Hooke: 100 mm of 205 GPa steel, 39.02 mm²), the specimen 1/400 mm/N.</summary>
[Collection(nameof(PrintedOutput))]
public class ComplianceCommandTest : IDisposable
{
    private const double Machine = 5e-4;
    private const double Bar = 1.25e-5;
    private static readonly string[] BarOptions = ["--bar-length-mm", "100", "--bar-section-mm2", "39.0244"];
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-compliance-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Measured_from_a_file_it_is_taken_off_another_traces_extension()
    {
        string bar = Pull("bar.csv", Machine + Bar, breaks: false);
        (int status, string measured, _) = await CommandLine.RunAsync(["compliance", "fit", bar, .. BarOptions, "--json"]);
        Assert.Equal(0, status);
        JsonElement answer = JsonDocument.Parse(measured).RootElement;
        double u = answer.GetProperty("standardUncertaintyMillimetresPerNewton").GetDouble();
        Assert.InRange(Math.Abs(answer.GetProperty("complianceMillimetresPerNewton").GetDouble() - Machine), 0, 3 * u);
        Assert.InRange(u, 0, 0.01 * Machine);
        Assert.Equal(Bar, answer.GetProperty("barMillimetresPerNewton").GetDouble(), 1e-9);

        string kept = Write("compliance.json", measured);
        string pull = Pull("pull.csv", (1 / 400.0) + Machine, breaks: true);
        (_, string with, _) = await CommandLine.RunAsync(["trace", pull, "--compliance", kept, "--json"]);
        (_, string without, _) = await CommandLine.RunAsync(["trace", pull, "--json"]);
        JsonElement taken = JsonDocument.Parse(with).RootElement, left = JsonDocument.Parse(without).RootElement;
        Assert.Equal(400, taken.GetProperty("initialSlopeNewtonsPerMillimetre").GetDouble(), 2.0);
        Assert.Equal(1 / ((1 / 400.0) + Machine), left.GetProperty("initialSlopeNewtonsPerMillimetre").GetDouble(), 2.0);
        Assert.Equal(JsonValueKind.Null, left.GetProperty("complianceMillimetresPerNewton").ValueKind);
        (_, string words, _) = await CommandLine.RunAsync(["trace", pull]);
        Assert.Contains("it includes the machine compliance", words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Kept_for_a_device_it_is_listed_with_its_figures()
    {
        string bar = Pull("bar.csv", Machine + Bar, breaks: false);
        string[] data = ["--data", _folder];
        (int status, string kept, _) =
            await CommandLine.RunAsync(["compliance", "fit", bar, .. BarOptions, "--keep-for", "51570000000000AA", "--remarks",
            "wedge grips", .. data, "--json"]);
        Assert.Equal(0, status);
        (_, string listed, _) = await CommandLine.RunAsync(["compliance", "list", .. data, "--json"]);
        JsonElement one = Assert.Single(JsonDocument.Parse(listed).RootElement.GetProperty("compliances").EnumerateArray());
        Assert.Equal(kept.Trim(), one.GetRawText());
        Assert.Equal("wedge grips", one.GetProperty("remarks").GetString());
        (_, string words, _) = await CommandLine.RunAsync(["compliance", "list", .. data]);
        Assert.Contains("machine compliance 0.5", words, StringComparison.Ordinal);
        Assert.Contains("the file bar.csv", words, StringComparison.Ordinal);
        (_, string none, string said) = await CommandLine.RunAsync(["compliance", "list", "--device", "51570000000000AB", .. data]);
        Assert.Equal("", none);
        Assert.Contains("None is saved", said, StringComparison.Ordinal);
        (_, none, _) = await CommandLine.RunAsync(["compliance", "list", "--device", "51570000000000AB", .. data, "--json"]);
        Assert.Empty(JsonDocument.Parse(none).RootElement.GetProperty("compliances").EnumerateArray());
    }

    [Theory]
    [InlineData("time_s,force_N\n0,0\n", "No position of the crosshead is known")]
    [InlineData("time_s,force_N,position_mm\n0,0,1\n0.1,0,1\n0.2,0,1\n0.3,0,1\n0.4,0,1\n0.5,0,1\n", "never rose above contact")]
    public async Task Says_why_a_trace_cannot_tell(string text, string expected)
    {
        (int status, _, string said) = await CommandLine.RunAsync(["compliance", "fit", Write("t.csv", text)]);
        Assert.Equal(2, status);
        Assert.Contains(expected, said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{"complianceMillimetresPerNewton":0}""", "a number above 0 was expected")]
    [InlineData("""{"give":1}""", "key complianceMillimetresPerNewton")]
    [InlineData("[1]", "compliance fit --json")]
    [InlineData("0.5 um/N", "not JSON")]
    public async Task Names_what_is_wrong_with_a_compliance_file(string text, string expected)
    {
        (int status, _, string said) =
            await CommandLine.RunAsync(["trace", Pull("a.csv", Machine, breaks: true), "--compliance", Write("c.json", text)]);
        Assert.Equal(2, status);
        Assert.Contains(expected, said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Refuses_half_a_bar_and_a_run_that_is_not_there()
    {
        (int status, _, string said) =
            await CommandLine.RunAsync(["compliance", "fit", Pull("bar.csv", Machine, breaks: false), "--bar-length-mm", "100"]);
        Assert.Equal(2, status);
        Assert.Contains("--bar-section-mm2: missing", said, StringComparison.Ordinal);
        (status, _, said) = await CommandLine.RunAsync(["compliance", "run", Guid.Empty.ToString(), "--data", _folder]);
        Assert.Equal(2, status);
        Assert.Contains("there is no run", said, StringComparison.Ordinal);
    }

    private string Write(string name, string text)
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>100 N/s from 1 s to 300 N, against a give in mm/N; the position to a micrometre.</summary>
    private string Pull(string name, double give, bool breaks)
    {
        var random = new Random(2);
        var text = new StringBuilder("time_s,force_N,position_mm\n");
        for (int i = 0; i < 400; i++)
        {
            double time = i / 80.0;
            double pulled = Math.Clamp(100 * (time - 1), 0, 300);
            double force = breaks && time > 4 ? 0 : pulled;
            force += (random.NextDouble() - 0.5) * 0.2;
            text.Append(CultureInfo.InvariantCulture,
                $"{time:F4},{force:F4},{30 + (give * pulled) + (breaks && time > 4 ? 0.1 * (time - 4) : 0):F3}\n");
        }

        return Write(name, text.ToString());
    }
}
