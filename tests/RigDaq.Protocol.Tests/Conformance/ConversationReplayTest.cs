using System.Diagnostics;
using RigDaq.Protocol.Conformance;
using RigDaq.Protocol.Messages;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Protocol.Tests.Conformance;

/// <summary>
/// The conversations of conversations.json, written from PROTOCOL.md by a script that knows no implementation, held against four devices
/// that share no code but for the two that are the same C.
/// </summary>
public sealed class ConversationReplayTest
{
    /// <summary>What a device with motion, a guard and one rate holds: all but what is said to those that lack something.</summary>
    private const int ForEveryMovingDevice = 55;

    /// <summary>And what a device with channels holds instead of not knowing them.</summary>
    private const int OfChannels = 5;

    [Fact]
    public async Task The_virtual_rig_holds_them()
    {
        await using var rig = new VirtualRig(new VirtualRigOptions { Stepped = true }, TimeProvider.System);
        var line = new VirtualRigLine(rig);
        AssertHolds(await ConversationReplay.RunAsync(line, mayMove: true, line.SetWorld), ForEveryMovingDevice);
    }

    [Fact]
    public async Task A_virtual_rig_that_only_measures_holds_those_that_concern_it()
    {
        var options = new VirtualRigOptions
        {
            Stepped = true,
            HasMotion = false,
            HasHoming = false,
            HasFeeder = false,
            HasSelectableRate = false
        };
        await using var rig = new VirtualRig(options, TimeProvider.System);
        AssertHolds(await ConversationReplay.RunAsync(new VirtualRigLine(rig), mayMove: true), 30);
    }

    [Fact]
    public async Task A_virtual_rig_with_further_channels_holds_those_too()
    {
        var options = new VirtualRigOptions { Stepped = true, Channels = [VirtualChannel.Extensometer, VirtualChannel.Thermometer] };
        await using var rig = new VirtualRig(options, TimeProvider.System);
        var line = new VirtualRigLine(rig);
        AssertHolds(await ConversationReplay.RunAsync(line, mayMove: true, line.SetWorld), ForEveryMovingDevice - 1 + OfChannels);
    }

    [Fact]
    public async Task A_strangers_device_with_a_thermometer_holds_them()
    {
        FirmwareTools.Need("python3");
        await using var line = new StrangerLine(program: "channels.py");
        AssertHolds(await ConversationReplay.RunAsync(line, mayMove: true, line.SetWorld), ForEveryMovingDevice + 3 - 1 + OfChannels);
    }

    [Fact]
    public async Task The_firmwares_core_on_the_bench_holds_them_under_the_sanitizers()
    {
        FirmwareTools.Need("gcc", "make");
        await FirmwareTools.Run("make", "bench", $"B={FirmwareTools.BuildFolder}");
        await using var line = new ProgramLine(new ProcessStartInfo(Path.Combine(FirmwareTools.BuildFolder, "bench_device")));
        AssertHolds(await ConversationReplay.RunAsync(line, mayMove: true, line.SetWorld), ForEveryMovingDevice + 2 - 1 + OfChannels);
    }

    [Fact]
    public async Task The_firmwares_image_in_a_simulated_chip_holds_them()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        await board.Exchange(1200, default);
        AssertHolds(
            await ConversationReplay.RunAsync(new BoardLine(board), mayMove: true, (what, value) => board.Ask($"{what} {value}")),
            ForEveryMovingDevice + 2 - 1 + OfChannels);
    }

    [Fact]
    public async Task A_strangers_device_that_was_written_from_the_text_holds_them()
    {
        FirmwareTools.Need("python3");
        await using var line = new StrangerLine();
        AssertHolds(await ConversationReplay.RunAsync(line, mayMove: true, line.SetWorld), ForEveryMovingDevice + 3);
    }

    /// <summary>Vectors that hold for any device would be worth nothing.</summary>
    [Theory]
    [InlineData("newer < 0x8000", "newer < 0x10000", "an older counter is no life while there is some")]
    [InlineData("newer and (newer < 0x8000 or not self.is_alive())", "True",
        "the same counter again is no life, whatever time has gone by")]
    [InlineData("or not self.is_alive())", ")", "after a silence every other counter is life: a host may have begun anew")]
    [InlineData("len(payload) == 33", "len(payload) >= 33", "limits with bytes behind them are refused: they could restrict more")]
    [InlineData("len(payload) != 22", "len(payload) < 22", "a move with bytes behind it is refused: they could restrict it")]
    [InlineData("if number and (0 < age < 0x8000 or kind == ASK_HELLO)", "if number",
        "a stop with an older number is done, and not remembered")]
    [InlineData("if number and (0 < age < 0x8000 or kind == ASK_HELLO)", "if (0 < age < 0x8000 or kind == ASK_HELLO)",
        "a greeting with number 0 is taken and not remembered")]
    [InlineData("if kind == STOP:", "if kind == STOP and len(payload) > 1:", "a stop of one byte stops")]
    [InlineData("self.event_at = self.now + 100", "self.event_at = self.now + 300",
        "an event comes again every 100 ms until it is acknowledged for this start and by its number")]
    [InlineData("(not self.guard, GUARD_OPEN)", "(False, GUARD_OPEN)",
        "the guard opened at standstill is an event, no fault, and forbids motion")]
    [InlineData("self.equal >= 8", "False", "a converter that repeats itself in motion stops it")]
    [InlineData("if late else", "if False else", "a converter of which every second conversion is missing stops the motion")]
    [InlineData("self.doubt, self.unsound = 6, True", "pass", "a converter that falls silent in motion stops it")]
    public async Task A_fault_that_a_device_has_is_found(string right, string wrong, string conversation)
    {
        FirmwareTools.Need("python3");
        await using var line = new StrangerLine(right, wrong);
        IReadOnlyList<ConformanceFinding> findings = await ConversationReplay.RunAsync(line, mayMove: true, line.SetWorld);
        Assert.Contains(conversation, findings.Where(f => f.Outcome == ConformanceOutcome.Fails).Select(f => f.Check));
    }

    [Fact]
    public async Task Nothing_moves_unless_it_may()
    {
        await using var rig = new VirtualRig(new VirtualRigOptions { Stepped = true }, TimeProvider.System);
        int before = rig.PositionSteps;
        IReadOnlyList<ConformanceFinding> findings = await ConversationReplay.RunAsync(new VirtualRigLine(rig), mayMove: false);
        Assert.Equal(before, rig.PositionSteps);
        Assert.False(rig.IsMotorPowered);
        Assert.DoesNotContain(findings, f => f.Outcome == ConformanceOutcome.Fails);
        Assert.Contains(findings, f => f.Detail == "motion was not allowed for this run");
    }

    /// <summary>The codec of the daemon writes each message of the conversations as the script did, byte for byte.</summary>
    [Fact]
    public void Our_codec_writes_what_the_conversations_send()
    {
        int compared = 0;
        foreach (ConversationStep step in Conversation.All.SelectMany(c => c.Steps)
            .Where(s => s.Do == "send" && !s.Payload.Contains('{', StringComparison.Ordinal)))
        {
            byte[] sent = Convert.FromHexString(step.Payload);
            var written = new byte[Protocol.Frames.FrameLimits.PayloadBytesMax];
            int length = (MessageType)sent[0] switch
            {
                MessageType.AskHello when AskHelloCommand.TryRead(sent, out AskHelloCommand m) => m.Write(written),
                MessageType.Stop when StopCommand.TryRead(sent, out StopCommand m) => m.Write(written),
                MessageType.Channel when ChannelCommand.TryRead(sent, out ChannelCommand m) => m.Write(written),
                MessageType.Stream when StreamCommand.TryRead(sent, out StreamCommand m) => m.Write(written),
                _ => 0,
            };
            if (length == 0 || length > sent.Length) continue; // cut short, or of a host of before
            Assert.Equal(Convert.ToHexString(sent.AsSpan(0, length)), Convert.ToHexString(written.AsSpan(0, length)));
            compared++;
        }

        Assert.True(compared > 100, $"{compared}");
    }

    private static void AssertHolds(IReadOnlyList<ConformanceFinding> findings, int count)
    {
        string[] wrong =
            [.. findings.Where(f => f.Outcome != ConformanceOutcome.Holds).Select(f => $"{f.Section}: {f.Check}: {f.Outcome}, {f.Detail}")];
        Assert.True(wrong.Length == 0, string.Join('\n', wrong));
        Assert.Equal(count, findings.Count);
    }
}
