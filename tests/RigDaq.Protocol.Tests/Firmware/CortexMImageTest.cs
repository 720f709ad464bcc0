using System.Text.Json;
using RigDaq.Protocol.Conformance;
using RigDaq.Protocol.Messages;
using RigDaq.Protocol.Tests.Conformance;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>The second port: the image for a Cortex-M3 in Debian's qemu, held to the wire as the first is.</summary>
public sealed class CortexMImageTest
{
    [Fact]
    public async Task The_image_for_a_32_bit_chip_holds_the_conversations_and_a_stall_its_driver_tells_of_un_homes_it()
    {
        await using QemuBoard board = await QemuBoard.Start();
        await board.Exchange(1500, default);
        Assert.Equal([448u, 528650u, 335544403u], ((byte[])[0, 16, 108]).Select(r => board.DriverRegisters[r]));
        IReadOnlyList<ConformanceFinding> findings = await ConversationReplay.RunAsync(
            new BoardLine(board), mayMove: true, (what, value) => board.Ask($"{what} {value}"), slackMilliseconds: 10);
        string[] wrong = [.. findings.Where(f => f.Outcome != ConformanceOutcome.Holds).Select(f => $"{f.Section}: {f.Check}: {f.Outcome}, {f.Detail}")];
        Assert.True(wrong.Length == 0, string.Join('\n', wrong));
        Assert.True(findings.Count >= 53, $"{findings.Count}");
    }
}
