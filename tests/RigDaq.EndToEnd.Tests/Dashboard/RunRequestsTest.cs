using System.Net;
using System.Text;
using System.Text.Json;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Tests.Shared;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>The page of one run over HTTP: looking is free, correcting wants the key, every correction is a revision with its
/// message.</summary>
public sealed class RunRequestsTest
{
    private static readonly byte[] Jpeg = TinyPicture.Jpeg();

    [Fact]
    public async Task Every_correction_wants_the_key_and_this_pages_origin()
    {
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        foreach (string command in (string[])["run-void", "run-restore", "run-look", "run-back",
            $"run-photo?run={StoredRun.Id}&revision=0"])
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await PostAsync(host, command, Jpeg, key: false)).Status);
            Assert.Equal(HttpStatusCode.Forbidden, (await PostAsync(host, command, Jpeg, origin: "http://example.org")).Status);
        }

        Assert.Single(host.Archive.Runs.Revisions(StoredRun.Id));
        Assert.False(Directory.Exists(Path.Combine(host.DataFolder, "photos")));
    }

    [Fact]
    public async Task A_void_is_a_revision_with_its_message_and_is_taken_back_or_reversed_as_further_ones()
    {
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        Assert.Equal(HttpStatusCode.Conflict, (await AskAsync(host, "run-void", 0, """ "kind":"slip","text":" " """)).Status); // No reason.
        Assert.Equal(HttpStatusCode.Conflict, (await AskAsync(host, "run-void", 0, """ "kind":"dislike","text":"low" """)).Status);
        Assert.Equal(0, host.Archive.Outbox.Count);

        Assert.Equal(HttpStatusCode.OK, (await AskAsync(host, "run-void", 0, """ "kind":"grip-failure","text":"broke in the lower grip" """)).Status);
        Assert.Equal(VoidKind.GripFailure, host.Runs.Find(StoredRun.Id)!.Void!.Kind);
        string message = Encoding.UTF8.GetString(Assert.Single(host.Archive.Outbox.Pending(10)).Message.Payload);
        Assert.Contains("grip failure", message, StringComparison.Ordinal);

        (HttpStatusCode stale, string words) = await AskAsync(host, "run-restore", 0, """ "text":"it was the upper one" """);
        Assert.Equal(HttpStatusCode.Conflict, stale);
        Assert.Contains("meantime", words, StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.OK, (await AskAsync(host, "run-restore", 1, """ "text":"looked again" """)).Status);
        Assert.Null(host.Runs.Find(StoredRun.Id)!.Void);
        Assert.Equal(HttpStatusCode.OK, (await AskAsync(host, "run-back", 2, """ "to":1,"text":"it was right" """)).Status);
        Assert.Equal(3, host.Runs.Find(StoredRun.Id)!.Revision);
        Assert.NotNull(host.Runs.Find(StoredRun.Id)!.Void);
        Assert.Equal(3, host.Archive.Outbox.Count);
        Assert.Equal(HttpStatusCode.Conflict, (await AskAsync(host, "run-back", 3, """ "to":9,"text":"none such" """)).Status);
    }

    [Fact]
    public async Task A_photo_is_kept_byte_for_byte_and_what_is_none_is_refused_in_words()
    {
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        string at = $"run-photo?run={StoredRun.Id}&revision=";
        Assert.Contains("neither a JPEG nor a PNG", (await PostAsync(host, at + 0, "GIF89a"u8.ToArray())).Words, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, (await PostAsync(host, at + 0, new byte[(10 << 20) + 1])).Status);
        Assert.Equal(HttpStatusCode.OK, (await AskAsync(host, "run-look", 0, """ "location":"at-grip","layer":"12","appearance":"dull" """)).Status);
        Assert.Equal(HttpStatusCode.OK, (await PostAsync(host, at + 1, Jpeg)).Status);

        FractureLook look = host.Runs.Find(StoredRun.Id)!.Look!;
        Assert.Equal((FractureLocation.AtGrip, "12", "dull", $"{StoredRun.Id}-2.jpg"),
            (look.Location, look.Layer, look.Appearance, look.PhotoName));
        Assert.Equal(Jpeg,
            await File.ReadAllBytesAsync(Path.Combine(host.DataFolder, "photos", look.PhotoName!), TestContext.Current.CancellationToken));
        using var client = new HttpClient();
        using HttpResponseMessage photo = await client.GetAsync(new Uri(host.Url, Addresses.Of(at + 2)),
            TestContext.Current.CancellationToken);
        Assert.Equal("image/jpeg", photo.Content.Headers.ContentType!.MediaType);
        Assert.Equal(Jpeg, await photo.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        Assert.Equal(HttpStatusCode.NotFound, (await GetAsync(host, at + 1)).Status);
    }

    [Fact]
    public async Task The_lines_of_the_budget_add_in_squares_to_the_stored_uncertainty()
    {
        // JCGM 100:2008, 5.1.6: relative uncertainties of a quotient add in squares.
        await using PageHost host = await PageHost.StartAsync();
        Run run = StoredRun.Store(host, new BenchInputs());
        using JsonDocument page = JsonDocument.Parse((await GetAsync(host, "run?run=" + StoredRun.Id)).Words);
        JsonElement budget = page.RootElement.GetProperty("budget");
        JsonElement[] lines = [.. budget.GetProperty("lines").EnumerateArray()];
        Assert.Equal(run.Strength!.StandardUncertaintyMegapascals,
            Math.Sqrt(lines.Sum(line => Math.Pow(line.GetProperty("standardMegapascals").GetDouble(), 2))), 1e-9);
        Assert.Equal(100, lines.Sum(line => line.GetProperty("sharePercent").GetDouble()), 1e-9);
        Assert.DoesNotContain(budget.GetProperty("notes").EnumerateArray(),
            note => note.GetString()!.Contains("stored result", StringComparison.Ordinal));
        Assert.False(page.RootElement.GetProperty("mayChange").GetBoolean());
    }

    [Fact]
    public async Task The_trace_is_drawn_and_the_list_tells_no_strength()
    {
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        (HttpStatusCode status, string svg) = await GetAsync(host, "run-trace?run=" + StoredRun.Id);
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("<svg", svg, StringComparison.Ordinal);
        Assert.Contains("break", svg, StringComparison.OrdinalIgnoreCase);
        string list = (await GetAsync(host, "runs")).Words;
        Assert.Contains(StoredRun.Specimen, list, StringComparison.Ordinal);
        Assert.DoesNotContain("egapascals", list, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await GetAsync(host, "run?run=none")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await GetAsync(host, "run-trace?run=" + new string('x', 300))).Status);
    }

    private static Task<(HttpStatusCode Status, string Words)> AskAsync(PageHost host, string command, int revision, string rest) =>
        PostAsync(host, command, Encoding.UTF8.GetBytes($$"""{"run":"{{StoredRun.Id}}","seen":{{revision}},{{rest}}}"""));

    private static async Task<(HttpStatusCode Status, string Words)> PostAsync(PageHost host, string command, byte[] body, bool key = true,
        string? origin = null)
    {
        using var content = new ByteArrayContent(body);
        return await host.PostAsync(command, content, key, origin);
    }

    private static Task<(HttpStatusCode Status, string Words)> GetAsync(PageHost host, string what) => host.GetAsync(Addresses.Of(what));
}
