using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;

namespace RigDaq.EndToEnd.Tests.Kills;

/// <summary>
/// <c>rigdaq serve</c> on a pseudo-terminal is killed at moments that a seed picks and started again, as often as RIGDAQ_KILLS
/// says (tools/load/kills.sh: 500);
/// RIGDAQ_KILLS_SEED picks the seed. Held against what is outside of the program: Debian's broker with a subscriber whose
/// session stays, and what the virtual rig
/// knows of its own breaks.
/// </summary>
public sealed class KillsTest(ITestOutputHelper output)
{
    private static readonly int Kills = int.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_KILLS"), out int asked) ? asked : 4;
    private static readonly int Seed = int.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_KILLS_SEED"), out int seed) ? seed : 1;

    [Fact]
    public async Task Whenever_serve_is_killed_no_pull_and_no_published_run_is_lost()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Needs a pseudo-terminal.");
        Assert.SkipUnless(File.Exists(Listener.Program), "Needs Debian's mosquitto-clients.");
        await using KilledServe serve = await KilledServe.PrepareAsync(Seed);
        for (int i = 0; i < Kills; i++)
        {
            await serve.KillOnceAsync();
            // So that one who waits for hundreds sees how far it has come.
            if ((i + 1) % 20 == 0) Console.Error.WriteLine($"{i + 1} kills: {serve.Breaks} breaks, {serve.Heard.Count} runs heard");
        }

        (IReadOnlyList<Run> stored, IReadOnlyList<string> findings) = await serve.EndAsync();
        Dictionary<string, Run> byId = stored.ToDictionary(run => run.Head.RunId);
        string[] heard = [.. serve.Heard.Select(message => message.Payload.GetProperty("runId").GetString()!)];
        string[] begun = [.. serve.Begun];
        string[] lost = [.. heard.Concat(begun).Distinct().Where(id => !byId.ContainsKey(id))];
        string[] unheard = [.. byId.Keys.Except(heard)];
        int broken = stored.Count(run => run.Ending is PullEnding.Broken or PullEnding.PartlyBroken or PullEnding.SlippedOut);
        int interrupted = stored.Count(run => run.Ending == PullEnding.Interrupted);
        output.WriteLine($"{Kills} kills (seed {Seed}, {serve.KillsBeforeUp} before it was up): {serve.Breaks} specimens broke, {begun.Length} pulls were seen to begin, "
            + $"{heard.Distinct().Count()} runs published in {heard.Length} messages, {stored.Count} stored, {interrupted} interrupted, {lost.Length} lost, "
            + $"{unheard.Length} stored and never published, {stored.Count - byId.Count} doubled; holds: {serve.Holds.Count}.");
        foreach (string hold in serve.Holds) output.WriteLine($"held: {hold}");
        Assert.Empty(lost);
        Assert.Empty(unheard);
        Assert.Empty(findings);

        // Whatever was said twice was said alike.
        foreach (HeardMessage message in serve.Heard)
        {
            Run run = byId[message.Payload.GetProperty("runId").GetString()!];
            Assert.Equal(run.Ending.Word(), message.Payload.GetProperty("ending").GetString());
            Assert.Equal(run.Head.SpecimenId, message.Payload.GetProperty("specimenId").GetString());
        }

        // Each true break is in one run: as it ended, or cut short by a kill between the break and its storing.
        Assert.InRange(serve.Breaks, broken, broken + interrupted);
        Assert.True(Kills < 20 || (interrupted > 0 && broken > Kills / 4), "too little happened to mean anything");
    }
}
