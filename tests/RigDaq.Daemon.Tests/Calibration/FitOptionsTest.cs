using System.Globalization;
using System.Text;
using System.Text.Json;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Calibration;

/// <summary>What is said to <c>calibration fit</c> is heard: each figure that it takes changes the uncertainty as it must.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class FitOptionsTest : IDisposable
{
    private const double CountsPerNewton = 1000;
    private readonly string _table = Path.Combine(Path.GetTempPath(), $"rigdaq-fit-{Guid.NewGuid():N}.csv");

    public void Dispose() => File.Delete(_table);

    // By hand (JCGM 100, 4.3.7): 0.02 % per kelvin and ± 5 K are a rectangle of ± 0.1 % of the force, standard 0.1 %/√3.
    [Fact]
    public async Task Temperature_is_a_rectangle_of_its_own()
    {
        Write(bow: 0, gap: 0);
        double line = await LineAsync("temperature", "--at", "50", "--temperature-percent-per-K", "0.02", "--temperature-spread-K", "5");
        Assert.Equal(50 * 0.001 / Math.Sqrt(3), line, 1e-9);
        Assert.Equal(0, await LineAsync("temperature", "--at", "50", "--temperature-spread-K", "0"), 1e-12);
    }

    // A bow of e·FS over FS bends by 4·e/FS a newton: the same share of a longer scale bends less at one force.
    [Fact]
    public async Task Full_scale_and_non_linearity_make_what_lies_beyond_the_references()
    {
        Write(bow: 0, gap: 0);
        double small = await ExpandedAsync("--at", "400", "--full-scale-N", "500", "--non-linearity-percent", "0.02",
            "--temperature-spread-K", "0");
        double great = await ExpandedAsync("--at", "400", "--full-scale-N", "500", "--non-linearity-percent", "0.1",
            "--temperature-spread-K", "0");
        double best = await ExpandedAsync("--at", "400", "--full-scale-N", "500", "--non-linearity-percent", "0.1", "--best-line",
            "--temperature-spread-K", "0");
        double longer = await ExpandedAsync("--at", "400", "--full-scale-N", "2000", "--non-linearity-percent", "0.1",
            "--temperature-spread-K", "0");
        Assert.True(small < great && great < best && longer < great, FormattableString.Invariant($"{small} {great} {best} {longer}"));
    }

    // ISO 7500-1's reversibility (from memory): the gap between the branches; a force that comes down is off by all of it.
    [Fact]
    public async Task A_force_that_comes_down_is_off_by_the_gap_and_one_that_rises_by_little_of_it()
    {
        Write(bow: 0, gap: 0.2);
        double rising = await ExpandedAsync("--at", "60", "--temperature-spread-K", "0", "--way", "rising");
        double unknown = await ExpandedAsync("--at", "60", "--temperature-spread-K", "0", "--way", "unknown");
        double falling = await ExpandedAsync("--at", "60", "--temperature-spread-K", "0", "--way", "falling");
        Assert.True(falling >= 0.2, FormattableString.Invariant($"{falling}"));
        Assert.InRange(unknown, 0.9 * 0.2, falling);
        Assert.True(rising < 0.5 * unknown, FormattableString.Invariant($"{rising} {unknown}"));
    }

    [Fact]
    public async Task A_bent_cell_is_fitted_by_a_line_unless_told_with_a_warning_and_the_degree_that_is_advised()
    {
        Write(bow: 0.3, gap: 0);
        using JsonDocument answer = await FitAsync();
        Assert.Equal(1, answer.RootElement.GetProperty("degree").GetInt32());
        Assert.Equal(2, answer.RootElement.GetProperty("advisedDegree").GetInt32());
        Assert.Contains(answer.RootElement.GetProperty("warnings").EnumerateArray(),
            warning => warning.GetString()!.Contains("--degree 2", StringComparison.Ordinal)
            || warning.GetString()!.Contains("degree 2", StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_was_assumed_is_said_with_what_entering_it_would_gain()
    {
        Write(bow: 0, gap: 0);
        using JsonDocument answer = await FitAsync("--at", "50");
        string warnings = answer.RootElement.GetProperty("warnings").ToString();
        Assert.Contains("are assumed", warnings, StringComparison.Ordinal);
        Assert.Contains(answer.RootElement.GetProperty("at")[0].GetProperty("lines").EnumerateArray(),
            line => line.GetProperty("assumed").GetBoolean());
    }

    private async Task<double> ExpandedAsync(params string[] options)
    {
        using JsonDocument answer = await FitAsync(options);
        return answer.RootElement.GetProperty("at")[0].GetProperty("expandedUncertaintyNewtons").GetDouble();
    }

    private async Task<double> LineAsync(string name, params string[] options)
    {
        using JsonDocument answer = await FitAsync(options);
        return answer.RootElement.GetProperty("at")[0].GetProperty("lines").EnumerateArray()
            .Single(line => line.GetProperty("name").GetString() == name)
            .GetProperty("standardUncertaintyNewtons").GetDouble();
    }

    private async Task<JsonDocument> FitAsync(params string[] options)
    {
        (int status, string output, string said) = await CommandLine.RunAsync(["calibration", "fit", _table, "--json", .. options]);
        Assert.True(status == ExitStatus.Done, said);
        return JsonDocument.Parse(output);
    }

    // Three rising series and one falling to 100 N, readings that scatter by a few counts; a bow of so many newtons, a gap of so many on
    // the way down.
    private void Write(double bow, double gap)
    {
        var random = new Random(3);
        var table = new StringBuilder("series,direction,reference_N,counts,reference_standard_uncertainty_N\n");
        for (int series = 1; series <= 3; series++)
        {
            Row(series, "rising", 0, 0);
            for (int step = 1; step <= 5; step++) Row(series, "rising", 20 * step, 0);
            for (int step = 4; series == 3 && step >= 1; step--) Row(series, "falling", 20 * step, gap);
            Row(series, "falling", 0, 0);
        }

        File.WriteAllText(_table, table.ToString());

        void Row(int series, string direction, double force, double more)
        {
            double counts = CountsPerNewton * (force + more + (bow * 4 * force / 100 * (1 - (force / 100)))) + 80_000 + random.Next(-3, 4);
            table.Append(CultureInfo.InvariantCulture,
                $"{series},{direction},{force},{Math.Round(counts)},{(force == 0 ? 0.0 : force * 2e-5):0.######}\n");
        }
    }
}
