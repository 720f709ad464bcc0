using System.Net;
using System.Text.Json;
using RigDaq.Core.Specimens;
using RigDaq.Rig.Sequencing;

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

        Assert.Null(host.Archive.Chosen);
        host.Rig.Set(s => s with { Sequence = FakeData.Sequence(host.Data.NextPlan()!, SequenceStage.Finished, done: 1) });
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("study-work", ask)).Status);
        Assert.Equal(SectionStudy.Id, StudyAtWork.Of(host.Archive)?.Id);

        using JsonDocument list = JsonDocument.Parse((await host.GetAsync("/api/studies")).Words);
        Assert.False(list.RootElement.GetProperty("mayChange").GetBoolean());
        JsonElement[] studies = [.. list.RootElement.GetProperty("studies").EnumerateArray()];
        Assert.Equal([("alder-birch", 1, 1, false), (SectionStudy.Id, 0, 3, true)], studies.Select(s => (
            s.GetProperty("id").GetString()!, s.GetProperty("pulled").GetInt32(), s.GetProperty("planned").GetInt32(), s.GetProperty("workedOn").GetBoolean())));
    }
}
