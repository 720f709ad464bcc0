using System.Diagnostics;
using System.Globalization;
using System.Net.WebSockets;
using System.Text.Json;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Tests.Shared;

namespace RigDaq.EndToEnd.Tests.Kills;

/// <summary>
/// What a pull waits for while everything else is asked of the same daemon: backups and three reports at a time as jobs, and ten pages that
/// look. Run on demand: wall times of a whole demo in a process of its own are printed, quiet and busy, and as ratios; they are held to no
/// bound.
/// </summary>
public sealed class BusyDaemonMeasurement
{
    private const int Pulls = 12, Pages = 10, Reports = 3;
    private static readonly TimeSpan Bound = TimeSpan.FromMinutes(5);

    [Fact(Explicit = true)]
    public async Task Prints_stop_latency_and_time_of_pulls_quiet_and_busy()
    {
        Figures quiet = await MeasureAsync(isBusy: false), busy = await MeasureAsync(isBusy: true);
        Tell($"quiet: {quiet}");
        Tell($"busy: {busy}");
        Tell($"busy to quiet: decision to stop {busy.Stop.Median / quiet.Stop.Median:0.00}, "
            + $"worst {busy.Stop.Worst / quiet.Stop.Worst:0.00}; time of the pulls {busy.Seconds / quiet.Seconds:0.000}");
    }

    private static void Tell(string line) => TestContext.Current.TestOutputHelper!.WriteLine(line);

    private static async Task<Figures> MeasureAsync(bool isBusy)
    {
        using var folder = new TemporaryFolder();
        await using RunningDemo demo = await RunningDemo.StartAsync(folder.Path, "--breaks", "36");
        using var ended = new CancellationTokenSource(Bound);
        using var client = new HttpClient { BaseAddress = new Uri(demo.Dashboard.GetLeftPart(UriPartial.Authority)) };
        client.DefaultRequestHeaders.Add("Origin", client.BaseAddress.GetLeftPart(UriPartial.Authority));
        client.DefaultRequestHeaders.Add("Cookie", $"rigdaq-{client.BaseAddress.Port}={demo.Dashboard.Fragment.Split('=')[1]}");
        var stops = new List<double>();
        var samples = new List<double>();
        var runs = new HashSet<string>();
        int jobs = 0, looked = 0;
        using var over = CancellationTokenSource.CreateLinkedTokenSource(ended.Token);
        List<Task> others = [];
        var watch = new Stopwatch();
        while (runs.Count < Pulls + 1)
        {
            using JsonDocument state = JsonDocument.Parse(await client.GetStringAsync("/api/v1/rigs/-/state", ended.Token));
            if (state.RootElement.GetProperty("lastRun") is { ValueKind: JsonValueKind.Object } last
                && runs.Add(last.GetProperty("runId").GetString()!))
            {
                // The first pull warms everything up; what is asked besides begins after it.
                if (runs.Count == 1)
                {
                    watch.Start();
                    if (isBusy)
                    {
                        for (int i = 0; i < Pages; i++)
                            others.Add(LookAsync(client.BaseAddress, () => Interlocked.Increment(ref looked), over.Token));
                        others.Add(AskAsync(client, () => jobs++, over.Token));
                    }
                }
                else
                {
                    Add(stops, state.RootElement.GetProperty("stopLatencyMilliseconds"));
                    Add(samples, state.RootElement.GetProperty("sampleToStopMilliseconds"));
                }
            }

            // Wall time: another process pulls.
            await Task.Delay(50, ended.Token);
        }

        double seconds = watch.Elapsed.TotalSeconds;
        await over.CancelAsync();
        await Task.WhenAll(others);
        return new Figures(Spread.Of(stops), Spread.Of(samples), seconds, jobs, looked);
    }

    private static void Add(List<double> to, JsonElement figure)
    {
        if (figure.ValueKind == JsonValueKind.Number) to.Add(figure.GetDouble());
    }

    private static async Task LookAsync(Uri address, Action looked, CancellationToken over)
    {
        try
        {
            using var socket = new ClientWebSocket();
            socket.Options.SetRequestHeader("Origin", address.GetLeftPart(UriPartial.Authority));
            await socket.ConnectAsync(new UriBuilder(address) { Scheme = "ws", Path = Addresses.Live }.Uri, over);
            byte[] bytes = new byte[64 * 1024];
            while (true)
            {
                if ((await socket.ReceiveAsync(bytes, over)).MessageType == WebSocketMessageType.Binary) looked();
            }
        }
        catch (Exception e) when (e is OperationCanceledException or WebSocketException)
        {
            // The measurement is over.
        }
    }

    private static async Task AskAsync(HttpClient client, Action done, CancellationToken over)
    {
        try
        {
            using JsonDocument studies = JsonDocument.Parse(await client.GetStringAsync("/api/v1/studies", over));
            string study = studies.RootElement.GetProperty("studies")[0].GetProperty("id").GetString()!;
            string[] asked = ["/api/v1/backup", .. Enumerable.Repeat($"/api/v1/studies/{study}/report", Reports)];
            while (true)
            {
                var jobs = new List<Uri>();
                foreach (string path in asked)
                {
                    using HttpResponseMessage answer = await client.PostAsync(path, new StringContent("{}"), over);
                    jobs.Add(answer.EnsureSuccessStatusCode().Headers.Location!);
                }

                foreach (Uri job in jobs)
                {
                    while (true)
                    {
                        using JsonDocument told = JsonDocument.Parse(await client.GetStringAsync(job, over));
                        if (told.RootElement.GetProperty("state").GetString() is not ("waiting" or "running")) break;
                        // Wall time: the daemon makes it.
                        await Task.Delay(50, over);
                    }

                    done();
                    (await client.DeleteAsync(job, over)).Dispose();
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The measurement is over.
        }
    }

    private sealed record Figures(Spread Stop, Spread Sample, double Seconds, int Jobs, int Looked)
    {
        public override string ToString() => $"decision to stop {Stop} ms, sample to stop {Sample} ms; {Pulls} pulls in "
            + string.Create(CultureInfo.InvariantCulture, $"{Seconds:0.0} s; jobs done {Jobs}, live messages {Looked}");
    }

    private sealed record Spread(double Median, double Worst)
    {
        public static Spread Of(List<double> values)
        {
            values.Sort();
            return values.Count == 0 ? new Spread(double.NaN, double.NaN) : new Spread(values[values.Count / 2], values[^1]);
        }

        public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"median {Median:0.00}, worst {Worst:0.00}");
    }
}
