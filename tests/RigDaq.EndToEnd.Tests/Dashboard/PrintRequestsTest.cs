using System.Net;
using System.Text.Json;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Rig.Sequencing;
using RigDaq.Tests.Shared;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>What is said of whole prints and of a plan's questions over HTTP: it wants the key, is bounded, and stays among the
/// versions.</summary>
public sealed class PrintRequestsTest
{
    private static readonly byte[] Picture = TinyPicture.Jpeg();

    [Fact]
    public async Task Every_change_wants_the_key_and_this_pages_origin()
    {
        await using PageHost host = await PageHost.StartAsync();
        StretchStudy.Store(host);
        foreach (string command in (string[])["study-not-printed", "study-printed", "study-join-prints", "study-questions",
            Photo("P04", "240")])
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync(command, Ask(""), key: false)).Status);
            Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync(command, Ask(""), origin: "http://example.org")).Status);
        }

        Assert.Single(host.Archive.Studies.Versions(StretchStudy.Id));
    }

    [Fact]
    public async Task A_stretch_that_could_not_be_printed_is_kept_with_reason_tries_and_photo_and_taken_back()
    {
        await using PageHost host = await PageHost.StartAsync();
        StretchStudy.Store(host);
        string stretch = """ "print":"P04","setting":240 """;
        Assert.Contains("few words why", (await host.PostAsync("study-not-printed", Ask(stretch))).Words, StringComparison.Ordinal);
        Assert.Contains("is not marked", (await PhotoAsync(host, "P04", "240", Picture)).Words, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-not-printed", Ask(stretch + ""","text":" foamed in the nozzle ","tries":3"""))).Status);
        Assert.Equal(22, StretchStudy.Find(host).Specimens.Count);

        Assert.Contains("neither a JPEG nor a PNG", (await PhotoAsync(host, "P04", "240", "GIF89a"u8.ToArray())).Words,
            StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, (await PhotoAsync(host, "P04", "240", new byte[(10 << 20) + 1])).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await PhotoAsync(host, "P04", "hot", Picture)).Status);
        Assert.Equal(HttpStatusCode.OK, (await PhotoAsync(host, "P04", "240", Picture)).Status);
        PrintFailure failure = StretchStudy.Find(host).Prints[3].At(240)!.Failure!;
        Assert.Equal(("foamed in the nozzle", 3), (failure.Reason, failure.Tries));
        using var client = new HttpClient();
        Assert.Equal(Picture,
            await client.GetByteArrayAsync(new Uri(host.Url, Addresses.Of(Photo("P04", "240"))), TestContext.Current.CancellationToken));
        Assert.Equal(HttpStatusCode.NotFound, (await host.GetAsync(Addresses.Of(Photo("P04", "220")))).Status);

        // Said again, with another reason: the photo stays.
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-not-printed", Ask(stretch + ""","text":"clogged","tries":4"""))).Status);
        Assert.Equal(failure with { Reason = "clogged", Tries = 4 }, StretchStudy.Find(host).Prints[3].At(240)!.Failure);

        using JsonDocument page = JsonDocument.Parse((await host.GetAsync(Addresses.Of("study?study=" + StretchStudy.Id))).Words);
        JsonElement shown = page.RootElement.GetProperty("prints")[3].GetProperty("stretches")[2];
        Assert.Equal((0, 4, true), (shown.GetProperty("specimens").GetInt32(), shown.GetProperty("failure").GetProperty("tries").GetInt32(),
            shown.GetProperty("failure").GetProperty("photo").GetBoolean()));

        Assert.Equal(HttpStatusCode.Conflict, (await host.PostAsync("study-printed", Ask(stretch + ""","specimens":0"""))).Status);
        Assert.Contains("at most 10000", (await host.PostAsync("study-printed", Ask(stretch + ""","specimens":2000000000"""))).Words, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-printed", Ask(stretch + ""","specimens":5"""))).Status);
        Assert.Null(StretchStudy.Find(host).Prints[3].At(240)!.Failure);
        Assert.Equal(27, StretchStudy.Find(host).Specimens.Count);
        Assert.Equal(
            ["made", "P04, 240 °C could not be printed (foamed in the nozzle; 3 tries)", "photo of P04, 240 °C, which could not be printed",
             "P04, 240 °C could not be printed (clogged; 4 tries)", "P04, 240 °C was printed after all"],
            host.Archive.Studies.Versions(StretchStudy.Id).Select(version => version.Reason));
    }

    [Theory]
    [InlineData("""{"print":"P09","setting":240,"text":"x"}""", "no print P09")]
    [InlineData("""{"print":"P04","setting":260,"text":"x"}""", "no stretch at 260 °C")]
    [InlineData("""{"print":"P04","setting":240,"text":"x","tries":0}""", "say why")]
    [InlineData("""{"print":"P04","setting":240,"text":"x","tries":1001}""", "say why")]
    [InlineData("""{"print":"P04","setting":"hot","text":"x"}""", "JSON")]
    [InlineData("""{"study":"none","print":"P04","setting":240,"text":"x"}""", "no such study")]
    public async Task What_cannot_be_is_refused_in_words(string json, string expected)
    {
        await using PageHost host = await PageHost.StartAsync();
        StretchStudy.Store(host);
        string ask = json.Contains("\"study\"", StringComparison.Ordinal) ? json : "{\"study\":\"" + StretchStudy.Id + "\"," + json[1..];
        (HttpStatusCode status, string words) = await host.PostAsync("study-not-printed", ask);
        Assert.NotEqual(HttpStatusCode.OK, status);
        Assert.Contains(expected, words, StringComparison.OrdinalIgnoreCase);
        Assert.Single(host.Archive.Studies.Versions(StretchStudy.Id));
    }

    [Fact]
    public async Task What_was_pulled_or_is_being_pulled_was_printed_and_a_text_has_an_end()
    {
        await using PageHost host = await PageHost.StartAsync();
        Run run = StoredRun.Store(host);
        Study pulled = host.Archive.Studies.Find(run.Head.StudyId)!;
        Specimen piece = pulled.Specimens.Single(s => s.Id == run.Head.SpecimenId);
        string ask = JsonSerializer.Serialize(new { study = pulled.Id, print = piece.PrintId, setting = piece.Setting, text = "x" });
        Assert.Contains("it was printed", (await host.PostAsync("study-not-printed", ask)).Words, StringComparison.Ordinal);

        StretchStudy.Store(host);
        Assert.Contains("2000 characters", (await host.PostAsync("study-not-printed", Ask($$""" "print":"P04","setting":240,"text":"{{new string('x', 2001)}}" """))).Words, StringComparison.Ordinal);
        host.Rig.Set(s => s with
        { Sequence = FakeData.Sequence(host.Data.NextPlan()! with { StudyId = StretchStudy.Id }, SequenceStage.Held, done: 1) });
        Assert.Contains("is running", (await host.PostAsync("study-not-printed", Ask(""" "print":"P04","setting":240,"text":"x" """))).Words, StringComparison.Ordinal);
        Assert.Contains("is running", (await host.PostAsync("study-join-prints", Ask(""" "prints":"P01\nP02","text":"x" """))).Words, StringComparison.Ordinal);
        Assert.Single(host.Archive.Studies.Versions(StretchStudy.Id));
    }

    [Fact]
    public async Task Prints_that_were_entered_one_a_setting_are_joined_with_a_reason()
    {
        await using PageHost host = await PageHost.StartAsync();
        Study separate = StretchStudy.Store(host, separate: true);
        string[] ids = [.. separate.Prints.Where(p => p is { Material: "Birch", Condition: "fan off" }).Select(p => p.Id).Reverse()];
        string prints = $$""" "prints":"{{string.Join("\\n", ids)}}" """;
        Assert.Contains("few words why", (await host.PostAsync("study-join-prints", Ask(prints))).Words, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Conflict, (await host.PostAsync("study-join-prints", Ask(""" "prints":"P01\nP02","text":"x" """))).Status); // Two conditions.
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-join-prints", Ask(prints + ""","text":"one piece, cut in three" """))).Status);
        Print joined = StretchStudy.Find(host).Prints.Single(p => p.Id == ids[0]);
        Assert.Equal([240m, 220m, 200m], joined.Stretches.Select(s => s.Setting!.Value)); // As they were named, from the print bed.
        Assert.Equal(10, StretchStudy.Find(host).Prints.Count);
        Assert.EndsWith("are one print: one piece, cut in three", host.Archive.Studies.Versions(StretchStudy.Id)[^1].Reason,
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Questions_are_chosen_frozen_and_changed_afterwards_only_with_a_reason_that_stays_beside_the_verdicts()
    {
        await using PageHost host = await PageHost.StartAsync();
        StretchStudy.Store(host);
        Assert.Contains("at least one", (await host.PostAsync("study-questions", Ask(""" "questions":"" """))).Words, StringComparison.Ordinal);
        Assert.Contains("weather", (await host.PostAsync("study-questions", Ask(""" "questions":"weather" """))).Words, StringComparison.Ordinal);
        Assert.Contains("Oak", (await host.PostAsync("study-questions", Ask(""" "questions":"keeps","referenceMaterial":"Oak" """))).Words, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Conflict, (await host.PostAsync("study-questions", Ask(""" "questions":"keeps","keepsPercent":100 """))).Status);

        string ask = """ "questions":"condition\ndrop-off difference\nkeeps","referenceMaterial":"Alder","keepsPercent":80 """;
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-questions", Ask(ask))).Status);
        Assert.Contains("already", (await host.PostAsync("study-questions", Ask(ask))).Words, StringComparison.Ordinal);
        Study study = StretchStudy.Find(host);
        Assert.Equal(["condition", "drop-off difference", "keeps"], study.PlannedQuestions!.Select(q => q.Question));
        Assert.Equal(("Alder", 80.0, null), (study.ReferenceMaterial, study.KeepsPercent, study.PlanFrozenAt));

        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-questions", Ask(ask + ""","freeze":true"""))).Status);
        Assert.NotNull(StretchStudy.Find(host).PlanFrozenAt);
        Assert.Contains("already", (await host.PostAsync("study-questions", Ask(ask + ""","freeze":true"""))).Words, StringComparison.Ordinal);
        string more = """ "questions":"condition\nshare","referenceMaterial":"Alder","keepsPercent":80 """;
        Assert.Contains("few words why", (await host.PostAsync("study-questions", Ask(more))).Words, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-questions", Ask(more + ""","text":"the fracture looked odd" """))).Status);
        string reason = host.Archive.Studies.Versions(StretchStudy.Id)[^1].Reason;
        Assert.Contains("the fracture looked odd", reason, StringComparison.Ordinal);
        Assert.Contains("question", reason, StringComparison.Ordinal); // What of a frozen plan was changed is said with it.
    }

    private static string Ask(string rest) => $$"""{"study":"{{StretchStudy.Id}}"{{(rest.Length > 0 ? "," : "")}}{{rest}}}""";

    private static string Photo(string print, string setting) => $"stretch-photo?study={StretchStudy.Id}&print={print}&setting={setting}";

    private static async Task<(HttpStatusCode Status, string Words)> PhotoAsync(PageHost host, string print, string setting, byte[] photo)
    {
        using var content = new ByteArrayContent(photo);
        return await host.PostAsync(Photo(print, setting), content);
    }
}
