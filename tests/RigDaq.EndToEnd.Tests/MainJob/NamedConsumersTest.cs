using System.Text.Json.Nodes;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Recording;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.EndToEnd.Tests.Dashboard;
using RigDaq.EndToEnd.Tests.Devices;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>
/// Consumers that the configuration names, through the whole of <c>rigdaq serve</c> and Debian's mosquitto_sub: each has every
/// run, once.
/// </summary>
public sealed class NamedConsumersTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(60);

    [Fact]
    public async Task Each_named_consumer_has_every_run_whatever_others_had_and_over_a_restart_none_twice()
    {
        Assert.SkipUnless(File.Exists(Listener.Program), "not installed here: mosquitto-clients");
        using var folder = new TemporaryFolder();
        var configuration = new JsonObject
        {
            ["data"] = folder["data"],
            ["http"] = new JsonObject { ["port"] = 0 },
            ["mqtt"] = new JsonObject { ["port"] = 0, ["consumers"] = new JsonArray("lake", "sheet") },
            // No rig is there: what waits from before is published all the same.
            ["serial"] = new JsonObject { ["path"] = folder["no-rig"] },
        };
        await File.WriteAllTextAsync(folder["rig.json"], configuration.ToJsonString(), TestContext.Current.CancellationToken);
        string[] runs = [Record(folder["data"]), Record(folder["data"])];

        await using (RunningServe serve = await RunningServe.StartAsync(folder["rig.json"]))
        {
            int port = await serve.MqttPortAsync();
            // A look at everything, and one consumer; the other one is away.
            await using Listener look = Listener.Start(port, "rigdaq/rig/runs/+");
            await using Listener lake = Listener.Start(port, "rigdaq/rig/consumers/lake/#");
            Assert.Equal(runs, await HeardAsync(look, runs.Length));
            Assert.Equal(runs, await HeardAsync(lake, runs.Length));
            await serve.Process.SignalAsync("-TERM");
            Assert.Equal(0, await serve.Process.ExitAsync(Bound));
        }

        string later = Record(folder["data"]);
        await using (RunningServe serve = await RunningServe.StartAsync(folder["rig.json"]))
        {
            int port = await serve.MqttPortAsync();
            await using Listener sheet = Listener.Start(port, "rigdaq/rig/consumers/sheet/#");
            string[] heard = await HeardAsync(sheet, runs.Length + 1);
            Assert.Equal<string>([.. runs, later], heard);
            // What it had before the restart does not come again.
            await using Listener lake = Listener.Start(port, "rigdaq/rig/consumers/lake/#");
            heard = await HeardAsync(lake, 1);
            Assert.Equal<string>([later], heard);
        }
    }

    private static async Task<string[]> HeardAsync(Listener listener, int count)
    {
        int heard = 0;
        IReadOnlyList<HeardMessage> all = await listener.UntilAsync(_ => ++heard == count, Bound);
        return [.. all.Select(message => message.Payload.GetProperty("runId").GetString()!)];
    }

    /// <summary>A run as the rig stores it, with its message waiting.</summary>
    private static string Record(string data)
    {
        using var archive = new RigArchive(data, TimeProvider.System, NullLogger.Instance);
        if (archive.Runs.FindPull(StoredRun.Id) is null) StoredRun.Store(archive);
        PullRecord pull = archive.Runs.FindPull(StoredRun.Id)!;
        var recorder = new PullRecorder(archive, TimeProvider.System, NullLogger.Instance);
        PullHead head = pull.Head with
        {
            RunId = Guid.CreateVersion7().ToString(),
            StartedAt = pull.Head.StartedAt.AddHours(archive.Outbox.Count + 1),
        };
        return recorder.Record(pull with { Head = head }).Head.RunId;
    }
}
