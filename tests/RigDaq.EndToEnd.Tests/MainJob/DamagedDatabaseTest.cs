using System.Globalization;
using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Playwright;
using RigDaq.Archive;
using RigDaq.Core.Runs;
using RigDaq.EndToEnd.Tests.Dashboard;
using RigDaq.EndToEnd.Tests.Devices;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Tests.Shared;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>
/// The whole of <c>rigdaq serve</c> over a data folder whose database is damaged: it comes up, says what to do on the terminal and the
/// page, starts no sequence, answers in words, stops, ends in order; and what it says to do brings everything back.
/// </summary>
public sealed class DamagedDatabaseTest(Browser browser) : IClassFixture<Browser>
{
    private const int PageBytes = 8192; // LiteDB's.
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(60);

    [Theory]
    [InlineData("garbage in the middle")]
    [InlineData("cut to 92 %")]
    [InlineData("a first page of zeros")]
    [InlineData("nothing but garbage")]
    public async Task Serve_comes_up_says_what_to_do_starts_nothing_and_stops(string damage)
    {
        using var folder = new TemporaryFolder();
        Run run = await StoredAsync(folder["data"]);
        Damage(folder["data/runs.db"], damage);
        await using VirtualRig rig = NewRig();
        await using (RunningServe serve = await RunningServe.StartAsync(await ConfigurationAsync(folder, rig)))
        {
            Assert.Contains("rigdaq rebuild", serve.Process.Errors, StringComparison.Ordinal);
            JsonElement state = await serve.WhenAsync(s => s.GetProperty("link").GetString() == "up" && Trouble(s).Length > 0,
                "the link and the database's trouble");
            Assert.Contains("rigdaq rebuild", Trouble(state), StringComparison.Ordinal);
            Assert.DoesNotContain("{0}", Trouble(state), StringComparison.Ordinal);
            foreach (string path in new[] { Addresses.Of("studies"), Addresses.Of("study?study=alder-birch"), Addresses.Of("runs"),
                Addresses.Of($"run?run={run.Head.RunId}"),
                "/report/alder-birch", "/picture/alder-birch", Addresses.Of("sections") })
            {
                (HttpStatusCode status, string words) = await serve.AskAsync(HttpMethod.Get, path);
                Assert.True(status is HttpStatusCode.OK or HttpStatusCode.ServiceUnavailable or HttpStatusCode.NotFound,
                    $"{path}: {status} {words}");
                Assert.NotEmpty(words);
                if (status == HttpStatusCode.ServiceUnavailable) Assert.Contains("rigdaq rebuild", words, StringComparison.Ordinal);
            }

            (HttpStatusCode started, string refusal) = await serve.AskAsync(HttpMethod.Post, Addresses.Of("start"),
                new { cautionsRead = true });
            Assert.Contains(started, (HttpStatusCode[])[HttpStatusCode.Conflict, HttpStatusCode.ServiceUnavailable]);
            Assert.Contains("rigdaq rebuild", refusal, StringComparison.Ordinal);
            long asked = TimeProvider.System.GetTimestamp();
            (HttpStatusCode stopped, _) = await serve.AskAsync(HttpMethod.Post, "/api/stop");
            Assert.Equal(HttpStatusCode.OK, stopped);
            // Wall time, with room for a busy machine; a stop on a quiet one takes a few milliseconds.
            Assert.True(TimeProvider.System.GetElapsedTime(asked) < TimeSpan.FromSeconds(1));
            await serve.Process.SignalAsync("-TERM");
            Assert.Equal(0, await serve.Process.ExitAsync(Bound));
        }

        (int rebuilt, _, string said) = await RigdaqProcess.RunAsync(Bound, "rebuild", "--data", folder["data"]);
        Assert.True(rebuilt == 0, said);
        using var archive = new RigArchive(folder["data"], TimeProvider.System, NullLogger.Instance);
        Assert.Null(archive.Trouble);
        Assert.Equal(run.Reading!.PeakForceNewtons, archive.Runs.Find(run.Head.RunId)!.Reading!.PeakForceNewtons);
        Assert.NotNull(archive.Runs.FindPull(run.Head.RunId));
    }

    [Fact]
    public async Task A_page_shows_the_trouble_and_the_remedy()
    {
        Browser.RequireInstalled();
        using var folder = new TemporaryFolder();
        await StoredAsync(folder["data"]);
        Damage(folder["data/runs.db"], "nothing but garbage");
        await using VirtualRig rig = NewRig();
        await using RunningServe serve = await RunningServe.StartAsync(await ConfigurationAsync(folder, rig));
        IPage page = await browser.OpenAsync(serve.PageAddress);
        await Expect(page.Locator("#banner-data")).ToContainTextAsync("rigdaq rebuild");
        await Expect(page.Locator("#chip-link")).ToContainTextAsync("Virtual rig");
        await page.Locator("#stop").ClickAsync();
        await Expect(page.Locator("#stop-answer")).ToContainTextAsync("Stop sent");
        foreach (string other in new[] { "/studies.html", "/run.html", "/sections.html", "/curves.html" })
        {
            await page.GotoAsync(new Uri(serve.PageAddress, other).ToString());
            await Expect(page.Locator("#banners, #banner").First).ToContainTextAsync("rigdaq rebuild");
        }

        await browser.CloseAllAsync();
    }

    [Fact]
    public async Task Damage_that_the_start_does_not_reach_is_said_when_it_is_met()
    {
        using var folder = new TemporaryFolder();
        Run run = await StoredAsync(folder["data"]);
        SpoilTheTrace(folder["data/runs.db"], run.Head.RunId);
        await using VirtualRig rig = NewRig();
        await using RunningServe serve = await RunningServe.StartAsync(await ConfigurationAsync(folder, rig));
        JsonElement before = await serve.WhenAsync(s => s.GetProperty("link").GetString() == "up", "the link");
        Assert.Equal("", Trouble(before));
        Assert.SkipUnless(File.Exists(Listener.Program), "Needs Debian's mosquitto-clients.");
        await using Listener listener = Listener.Start(await serve.MqttPortAsync(), [], "rigdaq/rig/alarms", "rigdaq/rig/state");
        await listener.UntilAsync(m => m.Topic.EndsWith("/state", StringComparison.Ordinal), Bound);
        (HttpStatusCode status, string words) = await serve.AskAsync(HttpMethod.Get, Addresses.Of($"run-trace?run={run.Head.RunId}"));
        Assert.Equal(HttpStatusCode.ServiceUnavailable, status);
        Assert.Contains("rigdaq rebuild", words, StringComparison.Ordinal);
        await serve.WhenAsync(s => Trouble(s).Contains("rigdaq rebuild", StringComparison.Ordinal), "the trouble on the page");
        HeardMessage alarm = (await listener.UntilAsync(m => m.Topic.EndsWith("/alarms", StringComparison.Ordinal), Bound))[^1];
        Assert.Equal("database damaged", alarm.Payload.GetProperty("kind").GetString());
        Assert.Contains("rigdaq rebuild", alarm.Payload.GetProperty("text").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_folder_in_the_place_of_the_database_is_put_aside_and_the_database_made_anew()
    {
        using var folder = new TemporaryFolder();
        Run run = await StoredAsync(folder["data"]);
        File.Move(folder["data/runs.db"], folder["runs.db"]);
        Directory.CreateDirectory(folder["data/runs.db"]);
        await using VirtualRig rig = NewRig();
        await using RunningServe serve = await RunningServe.StartAsync(await ConfigurationAsync(folder, rig));
        (HttpStatusCode status, string words) = await serve.AskAsync(HttpMethod.Get, Addresses.Of($"run?run={run.Head.RunId}"));
        Assert.True(status == HttpStatusCode.OK, words);
        Assert.Single(Directory.EnumerateDirectories(folder["data"], "runs.db.aside-*"));
    }

    [Fact]
    public async Task A_database_that_this_user_may_not_read_is_said_with_what_to_do()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows() || Environment.UserName == "root", "Needs a user whom rights can be kept from.");
        if (OperatingSystem.IsWindows()) return; // For the analyzer.
        using var folder = new TemporaryFolder();
        await StoredAsync(folder["data"]);
        File.SetUnixFileMode(folder["data/runs.db"], UnixFileMode.None);
        await using VirtualRig rig = NewRig();
        await using RunningServe serve = await RunningServe.StartAsync(await ConfigurationAsync(folder, rig));
        Assert.Contains("chmod", serve.Process.Errors, StringComparison.Ordinal);
        (HttpStatusCode status, string words) = await serve.AskAsync(HttpMethod.Get, Addresses.Of("studies"));
        Assert.Equal(HttpStatusCode.ServiceUnavailable, status);
        Assert.Contains("chmod", words, StringComparison.Ordinal);
    }

    private static VirtualRig NewRig() => new(new VirtualRigOptions { Seed = 7 }, TimeProvider.System);

    private static string Trouble(JsonElement state) => state.GetProperty("dataTrouble") is { ValueKind: JsonValueKind.String } words
        ? words.GetString()! : "";

    private static Task<Run> StoredAsync(string folder)
    {
        using var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance);
        return Task.FromResult(StoredRun.Store(archive));
    }

    private static async Task<string> ConfigurationAsync(TemporaryFolder folder, VirtualRig rig)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Needs a pseudo-terminal.");
        var configuration = new JsonObject
        {
            ["data"] = folder["data"],
            ["http"] = new JsonObject { ["port"] = 0 },
            ["mqtt"] = new JsonObject { ["port"] = 0 },
            ["serial"] = new JsonObject { ["path"] = rig.OpenPty(folder["rig"]) },
        };
        await File.WriteAllTextAsync(folder["rig.json"], configuration.ToJsonString(), TestContext.Current.CancellationToken);
        return folder["rig.json"];
    }

    private static void Damage(string database, string how)
    {
        byte[] bytes = File.ReadAllBytes(database);
        Assert.True(bytes.Length > 8 * PageBytes, string.Create(CultureInfo.InvariantCulture, $"{bytes.Length} bytes"));
        var garbage = new Random(7);
        switch (how)
        {
            case "garbage in the middle":
                garbage.NextBytes(bytes.AsSpan(2 * PageBytes, bytes.Length - (3 * PageBytes)));
                break;
            case "cut to 92 %":
                bytes = bytes[..(int)(bytes.Length * 0.92)];
                break;
            case "a first page of zeros":
                bytes.AsSpan(0, PageBytes).Clear();
                break;
            default:
                garbage.NextBytes(bytes);
                break;
        }

        File.WriteAllBytes(database, bytes);
    }

    /// <summary>Flips a byte of the stored samples: nothing that is read at the start.</summary>
    private static void SpoilTheTrace(string database, string runId)
    {
        byte[] whole = File.ReadAllBytes(database);
        string folder = Path.GetDirectoryName(database)!;
        for (int at = whole.Length - 100; at > PageBytes; at -= 331)
        {
            byte[] spoilt = [.. whole];
            spoilt[at] ^= 0xFF;
            File.WriteAllBytes(database, spoilt);
            using RigArchive archive = new(folder, TimeProvider.System, NullLogger.Instance);
            if (archive.DatabaseFaults().Count > 0) continue;
            try
            {
                archive.Runs.FindPull(runId);
            }
            catch (IOException)
            {
                return;
            }
        }

        Assert.Fail("No byte of the trace was found.");
    }
}
