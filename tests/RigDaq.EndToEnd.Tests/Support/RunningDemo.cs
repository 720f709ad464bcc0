using System.Globalization;
using System.Text.RegularExpressions;

namespace RigDaq.EndToEnd.Tests.Support;

/// <summary>A demo that stays up, in a process of its own, with the addresses that it printed.</summary>
internal sealed partial class RunningDemo : IAsyncDisposable
{
    private static readonly TimeSpan UpMax = TimeSpan.FromSeconds(60);

    private RunningDemo(RigdaqProcess process, Uri dashboard, int mqttPort)
    {
        Process = process;
        Dashboard = dashboard;
        MqttPort = mqttPort;
    }

    public RigdaqProcess Process { get; }

    /// <summary>With the token that motion needs.</summary>
    public Uri Dashboard { get; }

    public int MqttPort { get; }

    public static Task<RunningDemo> StartAsync(string dataFolder, params string[] more) => StartWithAsync([], dataFolder, more);

    /// <summary>The same with some variables of its environment set.</summary>
    public static async Task<RunningDemo> StartWithAsync(Dictionary<string, string> environment, string dataFolder, params string[] more)
    {
        RigdaqProcess process = RigdaqProcess.StartWith(environment, ["demo", "--data", dataFolder, "--http", "0", "--mqtt", "0", .. more]);
        try
        {
            Match dashboard = await process.SaysAsync(DashboardLine(), UpMax), mqtt = await process.SaysAsync(MqttLine(), UpMax);
            return new RunningDemo(process, new Uri(dashboard.Groups[1].Value),
                int.Parse(mqtt.Groups[1].Value, CultureInfo.InvariantCulture));
        }
        catch (InvalidOperationException)
        {
            await process.DisposeAsync();
            throw;
        }
    }

    public ValueTask DisposeAsync() => Process.DisposeAsync();

    [GeneratedRegex(@"Dashboard: (\S+)\r?\n")]
    private static partial Regex DashboardLine();

    [GeneratedRegex(@"MQTT: 127\.0\.0\.1:(\d+),")]
    private static partial Regex MqttLine();
}
