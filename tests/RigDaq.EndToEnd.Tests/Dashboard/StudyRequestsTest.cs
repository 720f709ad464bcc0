using System.Net;
using System.Text.Json;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Rig.Sequencing;
using RigDaq.Tests.Shared;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>What the page of studies asks for, and what it is refused.</summary>
public sealed class StudyRequestsTest
{
    [Fact]
    public async Task The_study_is_chosen_with_the_key_and_never_under_a_sequence()
    {
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        StoredRun.Store(host);
        string ask = $$"""{"study":"{{SectionStudy.Id}}"}""";
        Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync("study-work", ask, key: false)).Status);
        Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync("study-work", ask, origin: "http://example.org")).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await host.PostAsync("study-work", """{"study":"none"}""")).Status);
        foreach (SequenceStage stage in Enum.GetValues<SequenceStage>().Where(stage => stage != SequenceStage.Finished))
        {
            host.Rig.Set(s => s with { Sequence = FakeData.Sequence(host.Data.NextPlan()!, stage, done: 1) });
            (HttpStatusCode status, string words) = await host.PostAsync("study-work", ask);
            Assert.Equal(HttpStatusCode.Conflict, status);
            Assert.Contains("Finish here", words, StringComparison.Ordinal);
        }

        Assert.Null(host.Archive.Studies.Chosen);
        host.Rig.Set(s => s with { Sequence = FakeData.Sequence(host.Data.NextPlan()!, SequenceStage.Finished, done: 1) });
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-work", ask)).Status);
        Assert.Equal(SectionStudy.Id, host.Archive.Studies.Active()?.Id);

        using JsonDocument list = JsonDocument.Parse((await host.GetAsync(Addresses.Of("studies"))).Words);
        Assert.False(list.RootElement.GetProperty("mayChange").GetBoolean());
        JsonElement[] studies = [.. list.RootElement.GetProperty("studies").EnumerateArray()];
        Assert.Equal([("alder-birch", 1, 1, false), (SectionStudy.Id, 0, 3, true)], studies.Select(s => (
            s.GetProperty("id").GetString()!, s.GetProperty("pulled").GetInt32(), s.GetProperty("planned").GetInt32(),
                s.GetProperty("workedOn").GetBoolean())));
    }

    [Fact]
    public async Task A_record_is_looked_at_kept_for_several_prints_and_taken_away_again()
    {
        // Uptake 100·(m₁ − m₂)/m₂ (docs/studies.md): 4 g of 1000 g are 0.4 %.
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        string drying = """ "drying":[{"setTemperatureCelsius":50,"measuredTemperatureCelsius":63,"hours":6,"massBeforeGrams":1004,"massAfterGrams":1000},{}] """;
        (HttpStatusCode status, string words) = await host.PostAsync("print-record-look", Ask("P1", drying));
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("Uptake 0.40 %", words, StringComparison.Ordinal);
        Assert.Contains("the dryer reached 63 °C where 50 °C were set", words, StringComparison.Ordinal);
        Assert.Contains("without a record of storage, drying and printing: P2", words, StringComparison.Ordinal);
        Assert.Single(host.Archive.Studies.Versions(SectionStudy.Id)); // Looking keeps nothing.

        Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync("print-record", Ask("P1", drying), key: false)).Status);
        (status, words) = await host.PostAsync("print-record", Ask("P1\\nP2", drying + ""","storage":[{},{"place":" open shelf ","hours":240}],"printerSettings":"layer height = 0.2 mm\n","notes":" " """));
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("the records of fan on and fan off are the same", words, StringComparison.Ordinal);
        PrintRecord record = Find(host).Prints[1].Record!;
        Assert.Equal(("open shelf", 240.0, "0.2 mm", ""),
            (Assert.Single(record.Storage).Place, record.Storage[0].Hours, Assert.Single(record.PrinterSettings).Value, record.Notes));
        Assert.Equal(0.4, Assert.Single(record.Drying).UptakePercent!.Value, 1e-12);
        Assert.Null(record.WhilePrinting);
        Assert.Equal("record of P1, P2", host.Archive.Studies.Versions(SectionStudy.Id)[^1].Reason);

        // What is kept already makes no version, and a record is taken away only when it is said twice.
        Assert.Contains("Already", (await host.PostAsync("print-record", Ask("P1\\nP2", drying + ""","storage":[{"place":"open shelf","hours":240}],"printerSettings":"layer height=0.2 mm" """))).Words, StringComparison.Ordinal);
        Assert.Contains("once more", (await host.PostAsync("print-record", Ask("P2", """ "notes":"" """))).Words, StringComparison.Ordinal);
        Assert.Equal(2, host.Archive.Studies.Versions(SectionStudy.Id).Count);
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("print-record", Ask("P2", """ "notes":"","sure":true """))).Status);
        Assert.Contains("nothing to save", (await host.PostAsync("print-record", Ask("P2", """ "notes":"","sure":true """))).Words, StringComparison.Ordinal);
        Assert.Null(Find(host).Prints[1].Record);
        Assert.NotNull(Find(host).Prints[0].Record);
    }

    [Theory]
    [InlineData("P1", """ "drying":[{"hours":-1}] """, "-1 hours of drying are not possible")]
    [InlineData("P1", """ "storage":[{"relativeHumidityPercent":120}] """, "a relative humidity of 120 % is not possible")]
    [InlineData("P1", """ "printerSettings":"0.2 mm" """, "is not a pair")]
    [InlineData("P9", """ "notes":"x" """, "no print P9")]
    [InlineData("", """ "notes":"x" """, "Choose one print")]
    [InlineData("P1", """ "storage":[null],"drying":[null],"whilePrinting":null """, "not the JSON")]
    public async Task A_record_that_cannot_be_is_refused_in_words_and_nothing_is_kept(string prints, string rest, string expected)
    {
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        foreach (string command in (string[])["print-record-look", "print-record"])
        {
            (HttpStatusCode status, string words) = await host.PostAsync(command, Ask(prints, rest));
            Assert.NotEqual(HttpStatusCode.OK, status);
            Assert.Contains(expected, words, StringComparison.Ordinal);
        }

        Assert.Single(host.Archive.Studies.Versions(SectionStudy.Id));
    }

    [Fact]
    public async Task A_plan_is_frozen_once_and_labels_are_a_PDF()
    {
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        string ask = $$"""{"study":"{{SectionStudy.Id}}","questions":"condition\ndrop-off","freeze":true}""";
        Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync("study-questions", ask, key: false)).Status);
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-questions", ask)).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await host.PostAsync("study-questions", ask)).Status);
        Assert.Equal("fan on", Assert.Single(Find(host).PlannedComparisons!).Condition);
        foreach (string how in (string[])["", "?blind=yes"])
            Assert.StartsWith("%PDF", (await host.GetAsync($"/labels/{SectionStudy.Id}{how}")).Words, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await host.GetAsync("/labels/none")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await host.GetAsync(Addresses.Of("study?study=none"))).Status);
    }

    [Fact]
    public async Task A_study_is_looked_at_before_it_is_made_and_made_once()
    {
        await using PageHost host = await PageHost.StartAsync();
        string plan = """
            { "id":"kestrel-fan","name":"Alder and Birch, fan","materials":"Alder = PLA\nBirch\nAlder","conditions":" fan on \nfan off\n","settings":"200\n220,5","settingName":"nozzle temperature",
              "settingUnit":"°C","prints":3,"printsOf":"Birch = 2","specimens":10,"reference":"fan on","marginPercent":4,"basis":"reference","referenceSetting":"200","seed":7,"withinPercent":10,"betweenPercent":0,"stretchPercent":2 }
            """;
        (HttpStatusCode status, string words) = await host.PostAsync("study-plan", plan);
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("Groups: 8; prints: 10; specimens: 200; comparisons: 4.", words, StringComparison.Ordinal);
        // As the terminal says it of the same plan.
        Assert.Contains(Planning.Describe(new PlanQuestion
        {
            WithinPrintVariationPercent = 10,
            StretchVariationPercent = 2,
            Groups = 8,
            Settings = 2,
            Comparisons = 4
        }, 2, 10), words, StringComparison.Ordinal);
        Assert.Contains("which drops off faster: a difference of", words, StringComparison.Ordinal);
        Assert.Empty(host.Archive.Studies.All());
        Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync("study-make", plan, key: false)).Status);
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-make", plan)).Status);
        Assert.Contains("already", (await host.PostAsync("study-make", plan)).Words, StringComparison.Ordinal);

        var made = host.Archive.Studies.Find("kestrel-fan")!;
        var expected = new StudyPlan
        {
            Id = "kestrel-fan",
            Name = "Alder and Birch, fan",
            Materials = [new MaterialRecord("Alder", "PLA"), new MaterialRecord("Birch", "")],
            Conditions = ["fan on", "fan off"],
            Settings = [200, 220.5m],
            SettingName = "nozzle temperature",
            SettingUnit = "°C",
            PrintsPerGroup = 3,
            PrintsOf = new Dictionary<string, int> { ["Birch"] = 2 },
            SpecimensPerStretch = 10,
            ReferenceCondition = "fan on",
            EquivalenceMarginPercent = 4,
            SectionBasis = SectionBasis.ReferenceSetting,
            ReferenceSetting = 200,
            Seed = 7,
        }.Make(made.CreatedAt);
        Assert.Equal(JsonSerializer.Serialize(expected), JsonSerializer.Serialize(made));
        Assert.Equal("kestrel-fan", host.Archive.Studies.Active()?.Id);
    }

    [Theory]
    [InlineData(""" "conditions":"" """, "at least one material and one condition")]
    [InlineData(""" "id":"Kestrel Fan" """, "small letters")]
    [InlineData(""" "settings":"hot" """, "“hot” is not a number")]
    [InlineData(""" "reference":"dried" """, "reference condition “dried”")]
    [InlineData(""" "prints":2147483647,"specimens":2147483647,"conditions":"a\nb" """, "9223372028264841218 specimens; at most 10000")]
    [InlineData(""" "basis":"reference" """, "none is named")]
    [InlineData(""" "marginPercent":0 """, "between 0 and 100")]
    [InlineData(""" "withinPercent":-1,"conditions":"a\nb" """, "scatter")]
    public async Task A_plan_that_cannot_be_is_refused_in_the_words_of_the_core(string rest, string expected)
    {
        await using PageHost host = await PageHost.StartAsync();
        string plan = $$"""{"id":"fan","materials":"Alder","conditions":"a",{{rest}}}""";
        (HttpStatusCode status, string words) = await host.PostAsync("study-plan", plan);
        Assert.Equal(HttpStatusCode.Conflict, status);
        Assert.Contains(expected, words, StringComparison.Ordinal);
        Assert.Empty(host.Archive.Studies.All());
    }

    [Fact]
    public async Task A_study_that_is_made_under_a_sequence_is_not_worked_on_by_itself()
    {
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        host.Rig.Set(s => s with { Sequence = FakeData.Sequence(host.Data.NextPlan()!, SequenceStage.Held, done: 1) });
        (HttpStatusCode status, string words) = await host.PostAsync("study-make", """{"id":"later","materials":"Alder","conditions":"dried"}""");
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("still “Alder, cooling fan”", words, StringComparison.Ordinal);
        Assert.Equal(SectionStudy.Id, host.Archive.Studies.Active()?.Id);
    }

    [Fact]
    public async Task A_renamed_condition_is_a_version_with_its_reason_and_the_way_back_is_another()
    {
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        string rename = Change(""" "condition":"fan on","newName":"fan at full","text":"clearer" """);
        Assert.Equal(HttpStatusCode.Forbidden, (await host.PostAsync("study-rename", rename, key: false)).Status);
        Assert.Contains("why", (await host.PostAsync("study-rename", Change(""" "condition":"fan on","newName":"x","text":" " """))).Words, StringComparison.Ordinal);
        Assert.Contains("no condition", (await host.PostAsync("study-rename", Change(""" "condition":"none","newName":"x","text":"y" """))).Words, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-rename", rename)).Status);
        Assert.Equal("fan at full", Find(host).Prints[1].Condition);

        Assert.Contains("meantime", (await host.PostAsync("study-back", Change(""" "to":1,"seen":1,"text":"it was right" """))).Words, StringComparison.Ordinal);
        Assert.Contains("no such", (await host.PostAsync("study-back", Change(""" "to":2,"seen":2,"text":"it was right" """))).Words, StringComparison.Ordinal);
        host.Rig.Set(s => s with
        { Sequence = FakeData.Sequence(host.Data.NextPlan()! with { StudyId = SectionStudy.Id }, SequenceStage.Held, done: 1) });
        string back = Change(""" "to":1,"seen":2,"text":"it was right" """);
        Assert.Contains("is running", (await host.PostAsync("study-back", back)).Words, StringComparison.Ordinal);
        host.Rig.Set(s => s with { Sequence = null });
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-back", back)).Status);
        Assert.Equal("fan on", Find(host).Prints[1].Condition);
        using JsonDocument versions =
            JsonDocument.Parse((await host.GetAsync(Addresses.Of("study-versions?study=" + SectionStudy.Id))).Words);
        Assert.Equal(["back to version 1: it was right", "clearer", "made"], versions.RootElement.GetProperty("versions").EnumerateArray()
            .Select(v => v.GetProperty("reason").GetString()));

        static string Change(string rest) => $$"""{"study":"{{SectionStudy.Id}}",{{rest}}}""";
    }

    private static string Ask(string prints, string rest) => $$"""{"study":"{{SectionStudy.Id}}","prints":"{{prints}}",{{rest}}}""";

    private static Study Find(PageHost host) => host.Archive.Studies.Find(SectionStudy.Id)!;
}
