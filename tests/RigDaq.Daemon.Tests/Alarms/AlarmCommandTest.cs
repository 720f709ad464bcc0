using System.Text.Json;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Alarms;
using RigDaq.Publishing.Messages;

namespace RigDaq.Daemon.Tests.Alarms;

/// <summary>A program of one's own hears of alarms, and cannot hold anything up.</summary>
public sealed class AlarmCommandTest : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-alarms-").FullName;
    private readonly FakeTimeProvider _time = new();

    public AlarmCommandTest() => Assert.SkipUnless(File.Exists("/bin/sh"), "There is no /bin/sh.");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task It_gets_the_alarm_on_its_standard_input_and_in_its_environment_and_no_shell_reads_its_words()
    {
        string file = Path.Combine(_folder, "heard");
        await using (AlarmCommand command = Command($"(cat; echo \"$RIGDAQ_ALARM_RIG|$RIGDAQ_ALARM_KIND|$RIGDAQ_ALARM_TEXT\") > {file}"))
            command.Tell(Alarm("$(touch " + Path.Combine(_folder, "obeyed") + ")"));
        string[] lines = await File.ReadAllLinesAsync(file, TestContext.Current.CancellationToken);
        using JsonDocument json = JsonDocument.Parse(lines[0]);
        Assert.Equal("link lost", json.RootElement.GetProperty("kind").GetString());
        Assert.NotEqual("", json.RootElement.GetProperty("remedy").GetString());
        Assert.StartsWith("bench-1|link lost|$(touch", lines[1], StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(_folder, "obeyed")));
    }

    [Fact]
    public async Task One_that_hangs_is_killed_after_RunMax_and_WaitingMax_of_what_came_meanwhile_are_told()
    {
        string file = Path.Combine(_folder, "began");
        AlarmCommand command = Command($"echo x >> {file}; [ \"$RIGDAQ_ALARM_TEXT\" != hang ] || exec sleep 600");
        command.Tell(Alarm("hang"));
        await UntilAsync(() => Began(file) == 1);
        for (int i = 0; i < 3 * AlarmCommand.WaitingMax; i++) command.Tell(Alarm("more"));
        _time.Advance(AlarmCommand.RunMax);
        await UntilAsync(() => Began(file) == 1 + AlarmCommand.WaitingMax);
        await command.DisposeAsync();
        Assert.Equal(1 + AlarmCommand.WaitingMax, Began(file));
    }

    [Fact]
    public async Task One_that_is_not_there_costs_nothing_but_a_line_of_the_log()
    {
        await using var command = new AlarmCommand(["/nowhere/at/all"], "bench-1", _time, NullLogger<AlarmCommand>.Instance);
        command.Tell(Alarm("first"));
        command.Tell(Alarm("second"));
    }

    [Fact]
    public void Every_kind_of_alarm_has_a_remedy() =>
        Assert.All(AlarmKinds.All, kind => Assert.NotEqual("", (string)AlarmKinds.RemedyOf(kind)));

    private static int Began(string file) => File.Exists(file) ? File.ReadAllLines(file).Length : 0;

    private static AlarmMessage Alarm(string text) => new()
    { At = DateTimeOffset.UnixEpoch, Kind = AlarmKinds.LinkLost, Text = text, Remedy = AlarmKinds.RemedyOf(AlarmKinds.LinkLost) };

    private AlarmCommand Command(string script) => new(["/bin/sh", "-c", script], "bench-1", _time, NullLogger<AlarmCommand>.Instance);

    private static async Task UntilAsync(Func<bool> holds)
    {
        var waited = System.Diagnostics.Stopwatch.StartNew();
        // Wall time: another program comes to it.
        while (!holds() && waited.Elapsed < Patience) await Task.Delay(20, TestContext.Current.CancellationToken);
        Assert.True(holds());
    }
}
