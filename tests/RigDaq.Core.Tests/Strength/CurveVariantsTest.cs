using System.Diagnostics;
using System.Text.Json;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Core.Uncertainty;

namespace RigDaq.Core.Tests.Strength;

/// <summary>
/// The licensed recordings (tests/corpus/curves, CC BY 4.0) as other loggers would have kept them: slower, scaled, off, rounded,
/// noisy, read several times, filled in, uneven, with losses and wild values, started early, cut at the break
/// (tools/curves/vary.py). What a person says of them stays:
/// curves.csv, widened by what the variant itself hides.
/// </summary>
public sealed class CurveVariantsTest
{
    /// <summary>Begins on the ramp, and at 1 sample/s its scatter of 15 N of 260 N hides contact: 10 σ of five samples are all of
    /// it.</summary>
    private static readonly (string Kind, string File)[] Known = [("1 a second", "geo_cp1_t.csv")];

    [Fact]
    public void What_a_person_says_stays_however_it_was_logged()
    {
        int made = 0;
        var off = new List<string>();
        foreach (Variant variant in Make())
        {
            made++;
            var trace = new ForceTrace { TimesSeconds = variant.T, ForcesNewtons = variant.F, PositionsMillimetres = variant.X };
            TraceReading reading = TraceAnalysis.Read(trace, new DetectionSettings());
            if (Known.Contains((variant.Kind, variant.File))) continue;
            if (!variant.Endings.Contains(reading.Ending.Word())) off
                .Add($"{variant.Kind}, {variant.File}: {reading.Ending.Word()}, not {string.Join(" or ", variant.Endings)}");
            double? peak = reading.PeakForceNewtons + (reading.ZeroNewtons ?? 0),
                wide = PeakForceUncertainty.ExpandedNewtons(reading);
            bool right = variant.Low is { } low && variant.High is { } high ? peak + wide >= low && peak - wide <= high
                : peak is null;
            if (!right) off
                .Add($"{variant.Kind}, {variant.File}: peak {peak:G5} ± {wide:G3} N, not {variant.Low:G5} to {variant.High:G5} N");
            if (wide > 0.4 * reading.PeakForceNewtons) off
                .Add($"{variant.Kind}, {variant.File}: known to ± {100 * wide / reading.PeakForceNewtons:F0} % only");
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{made} variants");
        Assert.Empty(off);
        Assert.InRange(made, 800, 1000);
    }

    private static IEnumerable<Variant> Make()
    {
        string folder = AppContext.BaseDirectory;
        string[] words = [Path.Combine(folder, "curves", "vary.py"), Path.Combine(folder, "corpus", "curves")];
        using var maker = Process.Start(new ProcessStartInfo("python3", words) { RedirectStandardOutput = true })!;
        while (maker.StandardOutput.ReadLine() is { } line) yield return JsonSerializer.Deserialize<Variant>(line,
            JsonSerializerOptions.Web)!;
        maker.WaitForExit();
        Assert.Equal(0, maker.ExitCode);
    }

    private sealed record Variant(string Kind, string File, string[] Endings, double? Low, double? High, double[] T, double[] F,
        double[]? X);
}
