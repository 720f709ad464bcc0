using RigDaq.Protocol.Conformance;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Protocol.Tests.Conformance;

/// <summary>Three devices that share no code but the text: the virtual rig, the real image in a simulated chip, and a stranger's.</summary>
public sealed class ConformanceRunTest
{
    [Theory]
    [InlineData(320)]
    [InlineData(1000)]
    public async Task The_virtual_rig_conforms(double rate)
    {
        await using var rig = new VirtualRig(new VirtualRigOptions { Stepped = true, SampleRateHertz = rate }, TimeProvider.System);
        AssertConforms(await ConformanceRun.RunAsync(new VirtualRigLine(rig), mayMove: true));
    }

    [Fact]
    public async Task A_virtual_rig_that_only_measures_conforms()
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
        AssertConforms(await ConformanceRun.RunAsync(new VirtualRigLine(rig), mayMove: true));
    }

    [Fact]
    public async Task The_reference_firmware_conforms()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        await board.Exchange(1200, default);
        AssertConforms(await ConformanceRun.RunAsync(new BoardLine(board), mayMove: true));
    }

    [Fact]
    public async Task A_strangers_device_conforms()
    {
        FirmwareTools.Need("python3");
        await using var line = new StrangerLine();
        AssertConforms(await ConformanceRun.RunAsync(line, mayMove: true));
    }

    /// <summary>A run that finds nothing wrong with anything would be worth nothing.</summary>
    [Theory]
    [InlineData("newer and (newer < 0x8000 or not self.is_alive())", "True", "it stops 500 ms after the last keep-alive that counted")]
    [InlineData("self.faults |= bit", "pass", "the lost keep-alive latches and takes the power off")]
    [InlineData("number == 0 or 0 < age < 0x8000)", "age)", "an older number is superseded")]
    [InlineData("number == 0 or 0 < age < 0x8000)", "True)", "a repeated number does nothing")]
    [InlineData("(boot != self.boot, WRONG_BOOT)", "(False, WRONG_BOOT)", "a motion for another start is refused")]
    [InlineData("limits_id != self.limits_id", "False", "a motion under other limits is refused")]
    [InlineData("(not self.is_alive(), NO_KEEP_ALIVE)", "(False, NO_KEEP_ALIVE)", "a motion without a keep-alive is refused")]
    [InlineData("payload[1:5] != self.boot or len(value) < 2", "len(value) < 2", "an acknowledgement for another start is not taken")]
    [InlineData("self.now % 50 == 0", "self.now % 300 == 0", "the state comes at least every 100 ms with the stream off")]
    [InlineData("limits_id | int.from_bytes(crc16(payload), \"little\") << 16", "limits_id",
        "limits are confirmed by their id and the checksum of the command")]
    [InlineData(" and crc == crc16(payload)", "", "a frame with a wrong checksum is dropped without an answer")]
    [InlineData("at < len(stretch) <= 241", "at < len(stretch)", "")]
    public async Task A_fault_that_a_device_has_is_found(string right, string wrong, string check)
    {
        FirmwareTools.Need("python3");
        await using var line = new StrangerLine(right, wrong);
        IReadOnlyList<ConformanceFinding> findings = await ConformanceRun.RunAsync(line, mayMove: true);
        string[] failed = [.. findings.Where(f => f.Outcome == ConformanceOutcome.Fails).Select(f => f.Check)];
        if (check.Length > 0) Assert.Contains(check, failed);
        else Assert.Empty(failed); // to take longer frames is no fault
    }

    [Fact]
    public async Task Nothing_moves_unless_it_may()
    {
        await using var rig = new VirtualRig(new VirtualRigOptions { Stepped = true }, TimeProvider.System);
        int before = rig.PositionSteps;
        IReadOnlyList<ConformanceFinding> findings = await ConformanceRun.RunAsync(new VirtualRigLine(rig), mayMove: false);
        Assert.Equal(before, rig.PositionSteps);
        Assert.False(rig.IsMotorPowered);
        ConformanceFinding motion = Assert.Single(findings, f => f.Outcome == ConformanceOutcome.NotChecked);
        Assert.Equal("motion was not allowed for this run", motion.Detail);
        Assert.DoesNotContain(findings, f => f.Outcome == ConformanceOutcome.Fails);
    }

    [Fact]
    public async Task A_device_that_is_silent_is_told_so_and_nothing_more_is_tried()
    {
        IReadOnlyList<ConformanceFinding> findings = await ConformanceRun.RunAsync(new DeafLine(), mayMove: true);
        Assert.Equal(["no answer came", "no hello came"], findings.Select(f => f.Detail));
        Assert.All(findings, f => Assert.Equal(ConformanceOutcome.Fails, f.Outcome));
    }

    private static void AssertConforms(IReadOnlyList<ConformanceFinding> findings)
    {
        Assert.Equal([], findings.Where(f => f.Outcome != ConformanceOutcome.Holds)
            .Select(f => $"{f.Section}: {f.Check}: {f.Outcome}, {f.Detail}"));
        Assert.True(findings.Count > 30);
    }

    private sealed class DeafLine : IConformanceLine
    {
        public TimeSpan Elapsed => TimeSpan.Zero;

        public ValueTask<ReadOnlyMemory<byte>> ExchangeAsync(ReadOnlyMemory<byte> toDevice, TimeSpan duration) => default;
    }
}
