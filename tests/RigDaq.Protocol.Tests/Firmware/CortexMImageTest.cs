using RigDaq.Protocol.Conformance;
using RigDaq.Protocol.Messages;
using RigDaq.Protocol.Tests.Conformance;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>The second port: the image for a Cortex-M3 in Debian's qemu, held to the wire as the first is.</summary>
public sealed class CortexMImageTest
{
    [Fact]
    public async Task The_image_for_a_32_bit_chip_sets_its_driver_up_and_holds_the_conversations()
    {
        await using QemuBoard board = await QemuBoard.Start();
        await board.Exchange(1500, default);
        Assert.Equal([448u, 528650u, 335544403u], ((byte[])[0, 16, 108]).Select(r => board.DriverRegisters[r]));
        IReadOnlyList<ConformanceFinding> findings = await ConversationReplay.RunAsync(
            new BoardLine(board), mayMove: true, (what, value) => board.Ask($"{what} {value}"), slackMilliseconds: 10);
        string[] wrong =
            [.. findings.Where(f => f.Outcome != ConformanceOutcome.Holds).Select(f => $"{f.Section}: {f.Check}: {f.Outcome}, {f.Detail}")];
        Assert.True(wrong.Length == 0, string.Join('\n', wrong));
        Assert.True(findings.Count >= 56, $"{findings.Count}");
    }

    /// <summary>What <c>rigdaq check --device</c> asks beside the conversations; in full length only, for it takes as long again.</summary>
    [Fact]
    public async Task The_image_for_a_32_bit_chip_conforms()
    {
        Assert.SkipUnless(Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1",
            "half a minute of the board's time: RIGDAQ_LONG=1 runs it");
        await using QemuBoard board = await QemuBoard.Start();
        await board.Exchange(1500, default);
        IReadOnlyList<ConformanceFinding> findings = await ConformanceRun.RunAsync(new BoardLine(board), mayMove: true);
        Assert.Equal([], findings.Where(f => f.Outcome != ConformanceOutcome.Holds)
            .Select(f => $"{f.Section}: {f.Check}: {f.Outcome}, {f.Detail}"));
    }

    /// <summary>What the driver says on its own line, and what the converter's status says, is believed: both stop the motor, and steps
    /// that were lost un-home.</summary>
    [Fact]
    public async Task A_stall_that_the_driver_tells_of_and_a_reference_that_fails_stop_the_motion()
    {
        await using QemuBoard board = await QemuBoard.Start();
        var host = new LockStepHost(board);
        await host.Begin();
        await host.AskHello();
        Assert.Equal(AnswerResult.Done, await host.ClearFaults());
        Assert.Equal(AnswerResult.Done, await host.Home());
        await host.RunUntilStill(20_000);
        Assert.True(host.State.Flags.HasFlag(StateBits.Homed));

        Assert.Equal(AnswerResult.Done, await host.Move(400));
        await host.Run(300);
        await board.Ask("stall 1");
        await host.Run(400); // its status is asked four times a second
        Assert.Equal((MotionState.Still, DeviceFaults.Driver), (host.State.Motion, host.State.Faults));
        Assert.False(host.State.Flags.HasFlag(StateBits.MotorEnabled));
        Assert.False(host.State.Flags.HasFlag(StateBits.Homed));
        await board.Ask("stall 0");
        await host.Run(400);
        Assert.Equal(AnswerResult.Done, await host.ClearFaults());
        await host.Run(150);
        Assert.Equal(DeviceFaults.None, host.State.Faults);

        // Its frames are whole, and say that they are worth nothing; and frames that are not whole.
        foreach ((string lie, string truth) in ((string, string)[])[("reference 0", "reference 1"), ("torn 1", "torn 0")])
        {
            Assert.Equal(AnswerResult.Done, await host.Move(400));
            await host.Run(300);
            await board.Ask(lie);
            await host.Run(300);
            Assert.Equal((MotionState.Still, DeviceFaults.Converter), (host.State.Motion, host.State.Faults));
            await board.Ask(truth);
            await host.Run(300);
            Assert.Equal(AnswerResult.Done, await host.ClearFaults());
            await host.Run(150);
            Assert.Equal(DeviceFaults.None, host.State.Faults);
        }

        // A driver that does not answer any more is set up anew, and until it is, nothing moves.
        Assert.Equal(AnswerResult.Done, await host.Move(400));
        await host.Run(300);
        await board.Ask("driver-silent 1");
        await host.Run(1200); // three questions, 250 ms apart
        Assert.Equal((MotionState.Still, DeviceFaults.Driver), (host.State.Motion, host.State.Faults));
        Assert.Equal(AnswerResult.Done, await host.ClearFaults());
        await host.Run(150);
        Assert.Equal(DeviceFaults.Driver, host.State.Faults);
    }
}
