using System.Collections.Concurrent;
using System.Text.RegularExpressions;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>
/// A clock that is set forward in mid-work. The embedded broker reckons keep-alives by the wall clock and throws out whoever is
/// connected, the program's own connections too: they come back by themselves, and every result reaches who comes then.
/// </summary>
public sealed class ThrownOutTest
{
    private const string Library = "/usr/lib/x86_64-linux-gnu/faketime/libfaketimeMT.so.1";
    private const int Breaks = 4;
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(120);

    [Fact]
    public async Task A_clock_that_is_set_an_hour_forward_costs_no_result()
    {
        Assert.SkipUnless(File.Exists(Library), "not installed here: faketime (Debian: apt-get install faketime)");
        Assert.SkipUnless(File.Exists(Listener.Program), "not installed here: mosquitto-clients");
        using var folder = new TemporaryFolder();
        string clock = folder["clock"];
        await File.WriteAllTextAsync(clock, "+0", TestContext.Current.CancellationToken);
        var environment = new Dictionary<string, string>
        {
            ["LD_PRELOAD"] = Library,
            ["FAKETIME_TIMESTAMP_FILE"] = clock,
            ["FAKETIME_NO_CACHE"] = "1",
            ["FAKETIME_DONT_FAKE_MONOTONIC"] = "1",
        };
        await using RunningDemo demo = await RunningDemo.StartWithAsync(environment, folder["data"], "--breaks", $"{Breaks}",
            "--time-scale", "8");
        var topics = new ConcurrentDictionary<string, bool>();
        await using Listener before = Listener.Start(demo.MqttPort, "rigdaq/+/runs/+");
        await before.UntilAsync(Heard, Bound);
        await File.WriteAllTextAsync(clock, "+1h", TestContext.Current.CancellationToken);
        await demo.Process.SaysAsync(new Regex("Publishing of results waits for"), Bound);
        // Whoever was thrown out may come back or not; whoever comes now has what was not heard yet.
        await using Listener after = Listener.Start(demo.MqttPort, "rigdaq/+/runs/+");
        await Task.WhenAny(before.UntilAsync(All, Bound), after.UntilAsync(All, Bound));
        Assert.Equal(Breaks, topics.Count);

        bool Heard(HeardMessage message) => topics.TryAdd(message.Topic, true);

        bool All(HeardMessage message)
        {
            Heard(message);
            return topics.Count == Breaks;
        }
    }
}
