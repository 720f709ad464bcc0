using System.Globalization;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.EndToEnd.Tests.Replay;

/// <summary>
/// Recordings that others published (tests/corpus/curves, CC BY 4.0), played by the virtual rig as a specimen's force over time
/// and pulled by the whole daemon: they end as a person says (curves.csv) wherever the recording goes on long enough. Live stops
/// at the first main break, so broken and partly
/// broken are one; a pierced sheet is the same trace as a piece that slid.
/// </summary>
public sealed class PlayedCurvesTest(ITestOutputHelper output)
{
    private const double FastestTimes = 40;

    // Within the rig's force limit.
    private const double PeakNewtons = 600;

    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "corpus", "curves");

    private static readonly Dictionary<string, PullEnding[]> Answers = new()
    {
        ["broken in steps"] = [PullEnding.Broken, PullEnding.PartlyBroken],
        ["partly broken"] = [PullEnding.Broken, PullEnding.PartlyBroken],
        ["gradual"] = [PullEnding.SlippedOut, PullEnding.PartlyBroken],
        ["no contact"] = [PullEnding.NoContact],
    };

    public static TheoryData<string, string> GoOn => [.. Listed.Where(row => GoesOn(row.File))];

    /// <summary>The three that are over soonest.</summary>
    public static TheoryData<string, string> Shortest =>
        [.. Listed.Where(row => row.Ending != "no contact" && GoesOn(row.File)).OrderBy(row => Read(row.File).TimesSeconds[^1])
        .Take(3)];

    private static IEnumerable<(string File, string Ending)> Listed =>
        File.ReadLines(Path.Combine(Folder, "curves.csv")).Skip(1).Select(line => line.Split(','))
            .Select(row => (row[0], row[1]));

    [Fact]
    public void Most_of_them_go_on_long_enough() => Assert.InRange(Listed.Count(row => GoesOn(row.File)), 28, 31);

    [Theory]
    [MemberData(nameof(GoOn))]
    public Task End_as_a_person_says_by_a_fast_clock(string file, string ending) => Play(file, ending, FastestTimes);

    [Theory]
    [MemberData(nameof(Shortest))]
    public Task End_as_a_person_says_in_wall_time(string file, string ending)
    {
        Assert.SkipUnless(Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1", "Minutes of wall time: RIGDAQ_LONG=1.");
        return Play(file, ending, 1);
    }

    private async Task Play(string file, string ending, double times)
    {
        ForceTrace trace = Read(file);
        TraceReading reading = TraceAnalysis.Read(trace, new DetectionSettings());
        double zero = reading.ZeroNewtons ?? trace.ForcesNewtons.Take(10).Average();
        double factor = reading.PeakForceNewtons is { } peak ? PeakNewtons / peak : 1;
        double noise = factor * NoiseEstimate.FromSecondDifferences(trace.ForcesNewtons);
        var recorded = new RecordedForce(trace.TimesSeconds, [.. trace.ForcesNewtons.Select(force => factor * (force - zero))]);
        var options = new VirtualRigOptions
        {
            Seed = 5,
            TimeScale = times,
            StartMillimetres = 3,
            HasSelectableRate = false,
            SampleRateHertz = (trace.TimesSeconds.Length - 1) / recorded.LastsSeconds,
        };
        options = options with { NoiseCounts = Math.Max(options.NoiseCounts, noise / options.NewtonsPerCount) };
        await using var rig = new VirtualRig(options, TimeProvider.System);
        rig.QueueSpecimens([new VirtualSpecimen { Label = "S1", StrengthNewtons = PeakNewtons, Recorded = recorded }]);
        PullSettings settings = Recordings.Settings(40) with
        {
            PreloadNewtons = Math.Max(2, 10 * noise),
            SpeedMillimetresPerSecond = 0.05,
            SlackSpeedMillimetresPerSecond = 0.05,
            CompressionLimitNewtons = 500,
            TimeLimitSeconds = recorded.LastsSeconds + 20,
            ZeroSeconds = 1,
        };
        (Run run, PullRecord pull, _) = await WholeDaemon.PullOnceAsync(
            new PipeRigLinkOpener("virtual rig", rig.ConnectInProcess), options.NewtonsPerCount, options.NoiseCounts, settings,
                home: true);
        output.WriteLine($"{file}: {run.Ending.Word()}, {pull.Trace.Samples.Count} samples of {recorded.LastsSeconds:F0} s at {options.SampleRateHertz:F1}/s, peak {run.Reading?.PeakForceNewtons / factor:F1} N, {string.Join(" | ", run.Reading?.Warnings ?? [])}");
        Assert.Contains(run.Ending, Answers[ending]);
    }

    /// <summary>Whether there is a settling window after the fall: live has to wait for it.</summary>
    private static bool GoesOn(string file) =>
        !TraceAnalysis.Read(Read(file), new DetectionSettings())
            .Warnings.Any(warning => warning.Code == "recordingStopsInFall");

    private static ForceTrace Read(string file)
    {
        double[][] rows = [.. File.ReadLines(Path.Combine(Folder, file))
            .Where(line => line.Length > 0 && (char.IsDigit(line[0]) || line[0] == '-'))
            .Select(line => line.Split(',').Select(cell => double.Parse(cell, CultureInfo.InvariantCulture)).ToArray())];
        return new ForceTrace { TimesSeconds = [.. rows.Select(row => row[0])], ForcesNewtons = [.. rows.Select(row => row[1])] };
    }
}
