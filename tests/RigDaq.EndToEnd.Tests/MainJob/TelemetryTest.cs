using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>What a running daemon answers to whoever looks after machines, all of it from one start.</summary>
public sealed partial class TelemetryTest
{
    [Fact]
    public async Task Health_metrics_and_log_of_a_running_sequence()
    {
        using var folder = new TemporaryFolder();
        Dictionary<string, string> settings = new() { ["RIGDAQ__LOG__FORMAT"] = "json", ["RIGDAQ__LOG__LEVEL"] = "information" };
        await using RunningDemo demo = await RunningDemo.StartWithAsync(settings, folder.Path, "--breaks", "2", "--time-scale", "20");
        using var client = new HttpClient { BaseAddress = new Uri(demo.Dashboard.GetLeftPart(UriPartial.Authority)) };
        Assert.Equal(HttpStatusCode.OK, (await GetAsync(client, "/healthz")).Status);
        using var late = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        string metrics;
        do
        {
            late.Token.ThrowIfCancellationRequested();
            metrics = (await GetAsync(client, "/metrics")).Body;
            await Task.Delay(100, late.Token); // Another process: its runs come in wall time.
        }
        while (!BrokenRuns().IsMatch(metrics));
        (HttpStatusCode status, string ready) = await GetAsync(client, "/readyz");
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Equal("up", JsonDocument.Parse(ready).RootElement.GetProperty("link").GetString());
        // The example for viewers names nothing that is not there.
        string example = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "docs", "examples", "metrics-dashboard.json"), late.Token);
        string[] shown = [.. MetricName().Matches(example).Select(match => match.Value).Distinct()];
        Assert.True(shown.Length >= 8);
        Assert.All(shown, name => Assert.Contains($"\n{name}", metrics, StringComparison.Ordinal));
        JsonElement[] lines = [.. demo.Process.Errors.Split('\n').Where(line => line.StartsWith('{'))
            .Select(line => JsonDocument.Parse(line).RootElement)];
        Assert.NotEmpty(lines);
        Assert.All(lines, line => Assert.True(DateTimeOffset.TryParse(line.GetProperty("Timestamp").GetString(), out _)));
    }

    private static async Task<(HttpStatusCode Status, string Body)> GetAsync(HttpClient client, string path)
    {
        using HttpResponseMessage answer = await client.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    [GeneratedRegex(@"^rigdaq_runs_total\{[^}]*ending=""broken""[^}]*\} [1-9]", RegexOptions.Multiline)]
    private static partial Regex BrokenRuns();

    [GeneratedRegex("rigdaq_[a-z_]+")]
    private static partial Regex MetricName();
}
