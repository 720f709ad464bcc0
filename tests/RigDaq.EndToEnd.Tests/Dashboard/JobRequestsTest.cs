using System.IO.Compression;
using System.Net;
using System.Text;
using System.Text.Json;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Archive.Packages;
using RigDaq.Core.Signal;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Long work over HTTP: asked for with the key, done beside everything else, its file sent to who has the key.</summary>
public sealed class JobRequestsTest
{
    private const string Root = "/api/v1/", Study = "studies/alder-birch";

    /// <summary>What a zip file, a package and a backup are worth is what comes back out of them.</summary>
    [Fact]
    public async Task Report_pictures_package_and_backup_are_made_and_hold_what_is_kept()
    {
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        using HttpClient client = Keyed(host);
        using var folder = new TemporaryFolder();

        string html = Encoding.UTF8.GetString(await FileOfAsync(client, Study + "/report", "{}"));
        Assert.StartsWith("<!doctype html>", html, StringComparison.OrdinalIgnoreCase);
        Assert.StartsWith("%PDF-", Encoding.ASCII.GetString(await FileOfAsync(client, Study + "/report", """{"format":"pdf"}"""))[..5],
            StringComparison.Ordinal);
        using (var pictures = new ZipArchive(new MemoryStream(
            await FileOfAsync(client, Study + "/pictures", """{"format":"png","ratio":"9:16","transparent":true}"""))))
            Assert.All(pictures.Entries, entry => Assert.EndsWith(".png", entry.Name, StringComparison.Ordinal));

        IReadOnlyList<RawSample> samples = host.Archive.Runs.FindPull(StoredRun.Id)!.Trace.Samples;
        string package = Unzip(await FileOfAsync(client, Study + "/package", """{"licence":"CC0-1.0"}"""), Path.Combine(folder.Path, "package"));
        using (var other = new RigArchive(Path.Combine(folder.Path, "other"), TimeProvider.System, NullLogger.Instance))
        {
            await StudyPackage.ReadAsync(other, package);
            Assert.Equal(samples, other.Runs.FindPull(StoredRun.Id)!.Trace.Samples);
        }

        string copy = Unzip(await FileOfAsync(client, "backup", "{}"), Path.Combine(folder.Path, "backup"));
        using (var restored = new RigArchive(copy, TimeProvider.System, NullLogger.Instance))
        {
            Assert.Empty(restored.Verify());
            Assert.Equal(samples, restored.Runs.FindPull(StoredRun.Id)!.Trace.Samples);
        }
    }

    [Fact]
    public async Task Whoever_lacks_the_key_or_asks_for_what_there_is_not_is_told_and_what_is_called_off_is_gone()
    {
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        foreach (string address in (string[])[Study + "/report", Study + "/pictures", Study + "/package", "backup"])
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync(address, "{}", key: false)).Status);
            Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync(address, "{}", origin: "http://example.org")).Status);
        }

        Assert.Equal(HttpStatusCode.Forbidden, (await host.GetAsync(Root + "jobs")).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await host.PostAsync("studies/no-such/report", "{}")).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await host.PostAsync(Study + "/report", """{"format":"doc"}""")).Status);
        Assert.Contains("9:16", (await host.PostAsync(Study + "/pictures", """{"style":"large"}""")).Words, StringComparison.Ordinal);

        using HttpClient client = Keyed(host);
        (string job, _) = await AskAsync(client, Study + "/report", "{}");
        JsonElement by = (await OverAsync(client, job)).GetProperty("by");
        Assert.Equal(("Robin", "page"), (by.GetProperty("name").GetString(), by.GetProperty("from").GetString()));
        // RFC 9110, 9.3.5: what was deleted is there no more.
        using HttpResponseMessage gone = await client.DeleteAsync(new Uri(job, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, gone.StatusCode);
        foreach (string address in (string[])[job, job + "/file"])
        {
            using HttpResponseMessage missing = await client.GetAsync(new Uri(address, UriKind.Relative),
                TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.NotFound, missing.StatusCode);
        }

        Assert.Empty(Directory.EnumerateFileSystemEntries(Path.Combine(host.DataFolder, "jobs")));
    }

    private static HttpClient Keyed(PageHost host)
    {
        var client = new HttpClient(new HttpClientHandler { UseCookies = false }) { BaseAddress = host.Url };
        client.DefaultRequestHeaders.Add("Origin", host.Url.GetLeftPart(UriPartial.Authority));
        client.DefaultRequestHeaders.Add("Cookie", $"rigdaq-{host.Url.Port}={host.KeyedUrl.Fragment.Split('=')[1]}; rigdaq-name=Robin");
        return client;
    }

    private static async Task<byte[]> FileOfAsync(HttpClient client, string address, string json)
    {
        (string job, JsonElement asked) = await AskAsync(client, address, json);
        Assert.Contains(asked.GetProperty("state").GetString(), (string[])["waiting", "running", "done"]);
        JsonElement over = await OverAsync(client, job);
        Assert.True(over.GetProperty("state").GetString() == "done", over.ToString());
        Assert.InRange(over.GetProperty("of").GetInt32(), 1, int.MaxValue);
        return await client.GetByteArrayAsync(new Uri(over.GetProperty("file").GetString()!, UriKind.Relative),
            TestContext.Current.CancellationToken);
    }

    // RFC 9110, 15.3.3: 202 says where to look.
    private static async Task<(string Address, JsonElement Job)> AskAsync(HttpClient client, string address, string json)
    {
        using var body = new StringContent(json);
        using HttpResponseMessage asked = await client.PostAsync(new Uri(Root + address, UriKind.Relative), body,
            TestContext.Current.CancellationToken);
        string words = await asked.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(asked.StatusCode == HttpStatusCode.Accepted, words);
        return (asked.Headers.Location!.ToString(), JsonElement.Parse(words));
    }

    private static async Task<JsonElement> OverAsync(HttpClient client, string job)
    {
        for (int look = 0; look < 600; look++)
        {
            JsonElement now = JsonElement.Parse(await client.GetStringAsync(new Uri(job, UriKind.Relative),
                TestContext.Current.CancellationToken));
            if (now.GetProperty("endedAt").ValueKind != JsonValueKind.Null) return now;
            // In wall time: the job has a thread of its own, as anybody who asks for one sees it.
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }

        throw new TimeoutException("The job is not over after half a minute.");
    }

    private static string Unzip(byte[] zip, string into)
    {
        using var archive = new ZipArchive(new MemoryStream(zip));
        archive.ExtractToDirectory(into);
        return into;
    }
}
