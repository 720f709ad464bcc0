using System.Text.Json;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>The main job from nothing to a report, as the README's first command does it.</summary>
public sealed class DemoTest
{
    private const int Breaks = 12;

    /// <summary>What the whole job may take, start-up included, on a busy machine.</summary>
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(180);

    /// <summary>
    /// k for 99 % over four groups together (Šidák: 1 − 0.99^(1/4) two-sided), so that chance alone does not fail the build: 3.80 by
    /// Student's t (scipy.stats.t.ppf) for 12 degrees of freedom. What a specimen has of its own is mostly its section, whose width and
    /// thickness are the means of three readings each: two degrees of freedom each, twelve in a group of three. The normal distribution's
    /// 3.02 would take six standard deviations from three readings each as known.
    /// </summary>
    private const double CoverageFactor = 3.80;

    [Fact]
    public async Task The_same_specimens_are_measured_over_a_serial_port_and_in_process()
    {
        double[] inProcess = await MeasureAsync("--in-process");
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Needs pseudo-terminals, which Windows has not; the in-process half was run.");
        double[] overSerial = await MeasureAsync();
        Assert.Equal(inProcess, overSerial);
    }

    /// <summary>Runs the demo, holds what it measured against what was drawn, and gives what was drawn.</summary>
    private static async Task<double[]> MeasureAsync(params string[] line)
    {
        using var folder = new TemporaryFolder();
        (int status, string output, string errors) = await RigdaqProcess.RunAsync(Bound,
            ["demo", "--breaks", "12", "--exit", "--json", "--time-scale", "20", "--data", folder.Path, "--http", "0", "--mqtt", "0",
                .. line]);
        Assert.True(status == 0, errors);
        using JsonDocument answer = JsonDocument.Parse(output);
        JsonElement root = answer.RootElement;
        Assert.Equal(Breaks, root.GetProperty("runs").GetInt32());
        Assert.Equal(Breaks, root.GetProperty("endings").GetProperty("broken").GetInt32());
        Assert.True(File.Exists(root.GetProperty("report").GetString()));
        Assert.Equal(folder.Path, root.GetProperty("data").GetString());
        Assert.True(root.GetProperty("calibration").GetProperty("class").GetDouble() <= 1);
        JsonElement[] groups = [.. root.GetProperty("groups").EnumerateArray()];
        Assert.Equal(4, groups.Length);
        foreach (JsonElement group in groups)
        {
            Assert.Equal(3, group.GetProperty("n").GetInt32());
            double off = group.GetProperty("meanMegapascals").GetDouble() - group.GetProperty("drawnMeanMegapascals").GetDouble();
            double standard = group.GetProperty("measurementStandardUncertaintyMegapascals").GetDouble();
            Assert.True(Math.Abs(off) < CoverageFactor * standard, $"{group}: {off:0.000} MPa off, standard uncertainty {standard:0.000}");
        }

        return [.. groups.Select(group => group.GetProperty("drawnMeanMegapascals").GetDouble())];
    }
}
