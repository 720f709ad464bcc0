using System.Net;
using System.Text.Json;
using RigDaq.Core.Specimens;
using RigDaq.Tests.Shared;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Earlier results over HTTP: what was measured here, what a study is set against, and the control that links sessions.</summary>
public sealed class EarlierRequestsTest
{
    private const string Control = "Birch, fan off, 220";

    [Fact]
    public async Task Every_change_wants_the_key_and_this_pages_origin()
    {
        await using PageHost host = await TwoStudiesAsync();
        foreach ((string command, string rest) in new[] { ("study-against", Against("")), ("study-control", Marks("")) })
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync(command, Ask(rest + ""","text":"x" """), key: false)).Status);
            Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync(command, Ask(rest + ""","text":"x" """), origin: "http://example.org")).Status);
            Assert.Contains("few words why", (await host.PostAsync(command, Ask(rest))).Words, StringComparison.Ordinal);
        }

        Assert.Single(host.Archive.Studies.Versions(PulledStudy.LaterId));
    }

    [Fact]
    public async Task Every_group_ever_measured_is_shown_with_its_calibration_and_date()
    {
        await using PageHost host = await TwoStudiesAsync();
        JsonElement shelf = await ShelfAsync(host);
        JsonElement[] groups = [.. shelf.GetProperty("groups").EnumerateArray()];
        Assert.Equal((24, 0), (groups.Length, shelf.GetProperty("controls").GetArrayLength()));
        JsonElement pulled = groups.First(g => g.GetProperty("studyId").GetString() == PulledStudy.Id);
        Assert.InRange(Assert.Single(pulled.GetProperty("calibrations").EnumerateArray()).GetProperty("standardPercent").GetDouble(), 1e-3,
            5);
        Assert.StartsWith("2026-11-02", pulled.GetProperty("from").GetString(), StringComparison.Ordinal);
        Assert.All(groups.Where(g => g.GetProperty("studyId").GetString() == PulledStudy.LaterId),
            g => Assert.Equal(g.GetProperty("n").GetInt32(), g.GetProperty("imported").GetInt32()));
    }

    [Fact]
    public async Task A_study_is_set_against_an_earlier_one_pooled_only_for_a_reason_and_taken_back()
    {
        await using PageHost host = await TwoStudiesAsync();
        Assert.Contains("no such study", (await host.PostAsync("study-against", Ask(""" "other":"sooner","text":"x" """))).Words, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("itself", (await host.PostAsync("study-against", Ask($$""" "other":"{{PulledStudy.LaterId}}","text":"x" """))).Words, StringComparison.Ordinal);
        Assert.Contains("is not set against", (await host.PostAsync("study-against", Ask(Against(""","remove":true,"text":"x" """)))).Words, StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-against", Ask(Against(""","text":" is it as last year? ","noScatter":true""")))).Status);
        EarlierResult kept = Assert.Single(Later(host).Earlier);
        Assert.Equal((PulledStudy.Id, null, false), (kept.StudyId, kept.PooledBecause, kept.GivesScatter));
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-against", Ask(Against(""","text":" same spool ","pool":true""")))).Status);
        kept = Assert.Single(Later(host).Earlier);
        Assert.Equal(("same spool", true), (kept.PooledBecause, kept.GivesScatter));
        JsonElement[] shown = [.. (await PageAsync(host)).GetProperty("earlier").EnumerateArray()];
        Assert.Equal(("kestrel-lane-fan", "same spool"),
            (shown[0].GetProperty("studyId").GetString(), shown[0].GetProperty("pooledBecause").GetString()));

        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-against", Ask(Against(""","text":"another spool after all","remove":true""")))).Status);
        Assert.Empty(Later(host).Earlier);
        Assert.Equal(
            ["made", $"set against {PulledStudy.Id}: is it as last year?", $"pooled with {PulledStudy.Id}: same spool",
                $"no longer set against {PulledStudy.Id}: another spool after all"],
            host.Archive.Studies.Versions(PulledStudy.LaterId).Select(version => version.Reason));
    }

    [Fact]
    public async Task A_control_is_marked_in_both_sessions_charted_and_taken_back()
    {
        await using PageHost host = await TwoStudiesAsync();
        Assert.Contains("There are: Alder, fan off, 205", (await host.PostAsync("study-control", Ask(""" "group":"Cedar, fan off, 205","text":"x" """))).Words, StringComparison.Ordinal);
        foreach (string study in new[] { PulledStudy.LaterId, PulledStudy.Id })
            Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-control", Ask(Marks(""","text":"kept for it" """), study))).Status);
        Assert.Equal($"the control of later is {Control}: kept for it", host.Archive.Studies.Versions(PulledStudy.LaterId)[^1].Reason);
        JsonElement page = await PageAsync(host);
        Assert.Equal(Control + "\u202f°C", page.GetProperty("control").GetString());
        Assert.Contains(page.GetProperty("groups").EnumerateArray(), group => group.GetString() == Control);

        JsonElement history = Assert.Single((await ShelfAsync(host)).GetProperty("controls").EnumerateArray());
        Assert.Equal(2, history.GetProperty("points").GetArrayLength());
        // Two sessions say too little of how they scatter.
        Assert.Equal(JsonValueKind.Null, history.GetProperty("upperMegapascals").ValueKind);

        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-control", Ask(""" "remove":true,"text":"the spool is empty" """))).Status);
        Assert.Null(Later(host).Control);
        Assert.Equal("later has no control: the spool is empty", host.Archive.Studies.Versions(PulledStudy.LaterId)[^1].Reason);
    }

    private static async Task<PageHost> TwoStudiesAsync()
    {
        PageHost host = await PageHost.StartAsync();
        PulledStudy.Fill(host.Archive);
        host.Archive.Studies.Save(PulledStudy.Later(), "made");
        return host;
    }

    private static Study Later(PageHost host) => host.Archive.Studies.Find(PulledStudy.LaterId)!;

    private static string Against(string more) => $$""" "other":"{{PulledStudy.Id}}"{{more}} """;

    private static string Marks(string more) => $$""" "group":"{{Control}}"{{more}} """;

    private static string Ask(string rest, string study = PulledStudy.LaterId) => $$"""{"study":"{{study}}",{{rest}}}""";

    private static async Task<JsonElement> ShelfAsync(PageHost host)
        => JsonDocument.Parse((await host.GetAsync(Addresses.Of("earlier"))).Words).RootElement;

    private static async Task<JsonElement> PageAsync(PageHost host)
        => JsonDocument.Parse((await host.GetAsync(Addresses.Of("study?study=" + PulledStudy.LaterId))).Words).RootElement;
}
