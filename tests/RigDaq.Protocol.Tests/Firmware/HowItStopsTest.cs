using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>
/// The table "How it stops" of firmware-protocol/README.md: each of its figures is measured again on the image in the simulated chip at
/// 4,000 steps/s, from the moment at the pin to the last step and to the enable's edge, the most of several moments between two
/// conversions; and lies within the limit that the text sets.
/// </summary>
public sealed partial class HowItStopsTest
{
    private const int StepsPerSecond = 4000, Moments = 4, MomentMilliseconds = 3;

    /// <summary>A row of the table by its first words; what happens; what ends it; the limit in ms.</summary>
    public static TheoryData<string, string, string, double> Rows => new()
    {
        { "guard opens", "guard 0", "guard 1", 5 },
        { "emergency stop's second contact", "estop 1", "estop 0", 5 },
        { "driver's fault", "driver 1", "driver 0", 5 },
        { "an input that chatters", "chatter guard 1000 1000", "chatter guard 0 1000", 10 },
        { "a limit input ahead", "upper 1", "upper 0", 5 },
        { "a limit input behind", "lower 1000000", "lower -200", 5 },
        { "converter's data line low", "low 1", "low 0", 50 },
        { "a reading that freezes", "stuck 1", "stuck 0", 9 * 12.5 },
        { "every second conversion missing", "starve 2", "starve 0", 100 },
        { "converter dead", "converter 0", "converter 1", 38 }, // 31.25 ms counted in whole ones, 5, and the one begun
        { "main loop hangs", "hang", "", 20 },
    };

    [Theory]
    [MemberData(nameof(Rows))]
    public async Task It_stops_as_the_table_says_and_within_the_limit(string row, string happens, string ends, double limitMilliseconds)
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        (double step, double runOn, double power) = (0, 0, 0);
        for (int i = 0; i < (ends.Length == 0 ? 1 : Moments); i++)
        {
            Assert.Equal(AnswerResult.Done, await host.Move(StepsPerSecond));
            await host.Run(600 + (i * MomentMilliseconds));
            Assert.Equal(DeviceFaults.None, host.State.Faults);
            JsonElement before = await board.Look();
            await board.Ask(happens);
            await host.Run(200);
            JsonElement pins = await board.Look();
            double at = before.GetProperty("seconds").GetDouble();
            step = Math.Max(step, 1000 * (pins.GetProperty("lastStepSeconds").GetDouble() - at));
            runOn = Math.Max(runOn, pins.GetProperty("steps").GetInt64() - before.GetProperty("steps").GetInt64());
            if (pins.GetProperty("powered").GetInt32() == 0) power =
                Math.Max(power, 1000 * (pins.GetProperty("powerOffSeconds").GetDouble() - at));
            if (ends.Length == 0) break;
            await board.Ask(ends);
            await host.Run(1000);
            Assert.Equal(AnswerResult.Done, await host.ClearFaults());
            await host.Run(150);
        }

        string[] said = Said(row);
        string measured = string
            .Create(CultureInfo.InvariantCulture, $"{row}: last step {step:0.0} ms, {runOn} steps, power off {power:0.0} ms");
        TestContext.Current.TestOutputHelper?.WriteLine(measured);
        Assert.True(step <= limitMilliseconds && power <= limitMilliseconds, measured);
        Assert.True(IsSaid(said[2], step) && IsSaid(said[3], runOn) && (power == 0 ? said[4] == "holds" : IsSaid(said[4], power)),
            $"{measured}; the table: {string.Join(" | ", said)}");
    }

    /// <summary>docs/safety.md gives a person the same times: inputs as measured and as PROTOCOL.md, 9 and 10, allow them, the rest as
    /// their rules come to.</summary>
    [Fact]
    public void The_times_of_the_safety_page_are_the_devices()
    {
        const int look = 1, filter = 5, stand = 50;
        const double fast = 1000.0 / 80, slow = 1000.0 / 10;
        string[][] rows = [.. File.ReadLines(Path.Combine(FirmwareTools.SourceFolder, "..", "docs", "safety.md"))
            .Select(l => l.Split('|', StringSplitOptions.TrimEntries)).Where(c => c.Length > 9)];
        string inputs = string
            .Create(CultureInfo.InvariantCulture, $"{Math.Ceiling(Number(Said("guard opens")[4])):0} ms ({look + filter + stand} at most)");
        Assert.Equal([inputs, inputs], rows.Where(c => c[1] == "the same, seen").Select(c => c[5]));
        Assert.Equal(inputs, rows.Single(c => c[1] == "travel end")[5]);
        Assert.Equal(
            string.Create(CultureInfo.InvariantCulture,
                $"two conversion intervals and the converter's delay: {2 * fast:0} ms at 80/s, {2 * slow:0} ms at 10/s"),
                rows.Single(c => c[1] == "force limit")[5]);
        Assert.Equal(
            string.Create(CultureInfo.InvariantCulture,
                $"{Math.Ceiling(2.5 * fast) + 5 + look:0} ms at 80/s, {Math.Ceiling(2.5 * slow) + 5 + look:0} ms at 10/s; frozen: eight conversions"),
            rows.Single(c => c[1] == "dead or lying converter")[5]);
        Assert.True(Number(Said("main loop hangs")[4]) <= Number(rows.Single(c => c[1] == "hung program")[5]));
        Assert.Equal("500 to 520 ms", rows.Single(c => c[1] == "silence of the host")[5]);
    }

    private static double Number(string cell) => double.Parse(FirstNumber().Match(cell).Value, CultureInfo.InvariantCulture);

    /// <summary>To a tenth, and where the simulator is built with other cycles to a twentieth.</summary>
    private static bool IsSaid(string cell, double measured) =>
        double.TryParse(FirstNumber().Match(cell).Value, NumberStyles.Float, CultureInfo.InvariantCulture, out double said)
            && Math.Abs(said - measured) <= 0.11 + (0.05 * measured);

    private static string[] Said(string row) => File.ReadLines(Path.Combine(FirmwareTools.SourceFolder, "README.md"))
        .Select(line => line.Split('|', StringSplitOptions.TrimEntries)).Single(cells => cells.Length > 5 && cells[1] == row);

    [GeneratedRegex(@"\d+(\.\d+)?")]
    private static partial Regex FirstNumber();
}
