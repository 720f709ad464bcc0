using System.Globalization;

namespace RigDaq.EndToEnd.Tests.Replay;

/// <summary>
/// How long the host takes from the arrival of the sample that decides to the stop command on the line. Run on demand: a wall time
/// is printed as a ratio to the converter's interval, not held to a bound.
/// </summary>
public sealed class StopLatencyMeasurement
{
    private const int PullsEach = 5;

    private static readonly string[] Decided = ["01-broken-80-per-second", "02-broken-320-per-second", "05-partly-broken-320-per-second"];

    [Fact(Explicit = true)]
    public async Task Prints_median_and_worst_in_converter_intervals()
    {
        foreach (string name in Decided)
        {
            RecordedRun recorded = RecordedRun.Read(Path.Combine(AppContext.BaseDirectory, "recorded"), name);
            var ratios = new List<double>();
            for (int i = 0; i < PullsEach; i++)
            {
                await using var device = new ReplayDevice(recorded);
                (_, _, TimeSpan? latency) = await WholeDaemon.PullOnceAsync(
                    device.Link, recorded.Head.NewtonsPerCount, recorded.Head.NoiseCounts,
                        Recordings.Settings(recorded.Head.TravelLimitMillimetres));
                Assert.NotNull(latency);
                ratios.Add(latency.Value.TotalSeconds / recorded.Head.IntervalSeconds);
            }

            ratios.Sort();
            TestContext.Current.TestOutputHelper!.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                    $"{name}: median {ratios[PullsEach / 2]:0.000}, worst {ratios[^1]:0.000} intervals over {PullsEach} pulls"));
        }
    }
}
