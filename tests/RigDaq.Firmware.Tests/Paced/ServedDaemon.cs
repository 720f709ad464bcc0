using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using RigDaq.Core.Calibration;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Firmware.Tests.Support;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Tests.Shared;

namespace RigDaq.Firmware.Tests.Paced;

/// <summary>
/// <c>rigdaq serve</c> in a process of its own at the serial port of the real image, which runs in real time: as on a bench. All waits are
/// in wall time, because three programs go on by themselves.
/// </summary>
internal sealed partial class ServedDaemon : IAsyncDisposable
{
    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(60);
    private readonly TemporaryFolder _folder;

    private ServedDaemon(TemporaryFolder folder, SimulatedBoard board, RigdaqProcess process, Page page)
    {
        _folder = folder;
        Board = board;
        Process = process;
        Page = page;
    }

    public SimulatedBoard Board { get; private set; }

    public RigdaqProcess Process { get; }

    public Page Page { get; }

    private static string PortIn(TemporaryFolder folder) => folder["port"];

    /// <summary>Switches the board on and starts the daemon.</summary>
    public static async Task<ServedDaemon> StartAsync(int baud = 250_000, params string[] boardArguments)
    {
        var folder = new TemporaryFolder();
        string deviceId = await DeviceIdAsync();
        CalibrationRecord calibration = Bench.CalibrationOf(deviceId);
        Bench.Prepare(folder.Path, TimeProvider.System, specimens: 1, calibration);
        SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.RealTime, ["--link", PortIn(folder), .. boardArguments]);
        RigdaqProcess process = RigdaqProcess.Start("serve", "--config", Bench.WriteConfiguration(folder.Path, PortIn(folder), baud));
        Match address = await process.SaysAsync(DashboardLine(), WaitMax);
        return new ServedDaemon(folder, board, process, await Page.OpenAsync(new Uri(address.Groups[1].Value)));
    }

    /// <summary>Homes, starts, puts a specimen in, and waits until the middle of its pull.</summary>
    public async Task IntoMidPullAsync()
    {
        await UntilAsync(s => s.GetProperty("link").GetString() == "up" && s.GetProperty("calibration").ValueKind == JsonValueKind.Object,
            "connected and calibrated");
        await Board.Ask("estop 1");
        await UntilAsync(s => s.GetProperty("faults").GetArrayLength() > 0, "stopped");
        await Board.Ask("estop 0");
        await UntilAsync(s => s.GetProperty("emergencyStopReleased").GetBoolean(), "released");
        await DoAsync("clear-faults");
        await DoAsync("hand-motion", new { cautionsRead = true, acceptBeyondCalibration = true });
        await DoAsync("home");
        await UntilAsync(s => s.GetProperty("homed").GetBoolean() && s.GetProperty("motion").GetString() == "still", "homed");
        await DoAsync("start", new { cautionsRead = true, emergencyStopTested = true });
        await UntilAsync(s => Sequence(s, "reason").Contains("Open the guard", StringComparison.Ordinal), "asked for a specimen");
        await Board.Ask("guard 0");
        await UntilAsync(s => !s.GetProperty("guardClosed").GetBoolean(), "open");
        await Board.Ask(string.Create(CultureInfo.InvariantCulture, $"specimen {Bench.StiffnessNewtonsPerMillimetre} 0.5 250"));
        await Board.Ask("guard 1");
        await UntilAsync(s => Sequence(s, "stage") == "pulling"
            && s.GetProperty("forceNewtons") is { ValueKind: JsonValueKind.Number } force && force.GetDouble() > 10, "in mid-pull");
    }

    /// <summary>Waits until the sequence is held and its one run is stored, and gives the run's ending.</summary>
    public async Task<string> HeldAndStoredAsync()
    {
        await UntilAsync(s => Sequence(s, "stage") == "held" && s.GetProperty("lastRun").ValueKind == JsonValueKind.Object,
            "held and stored");
        JsonElement run = Assert.Single((await Page.GetAsync(Addresses.Of("runs"))).GetProperty("runs").EnumerateArray());
        return run.GetProperty("ending").GetString()!;
    }

    public Task<JsonElement> UntilAsync(Func<JsonElement, bool> seen, string what) => Page.UntilAsync(seen, what, WaitMax);

    public async Task DoAsync(string command, object? what = null)
    {
        (bool done, string words) = await Page.AskAsync(command, what);
        Assert.True(done, $"{command}: {words}");
    }

    public async Task UnplugAsync() => await Board.DisposeAsync();

    public async Task PlugInAsync() => Board = await SimulatedBoard.Start(SimulatedBoard.RealTime, "--link", PortIn(_folder));

    public static string Sequence(JsonElement state, string name) =>
        state.GetProperty("sequence") is { ValueKind: JsonValueKind.Object } sequence ? sequence.GetProperty(name).GetString()! : "";

    public async ValueTask DisposeAsync()
    {
        await Page.DisposeAsync();
        await Process.DisposeAsync();
        await Board.DisposeAsync();
        _folder.Dispose();
    }

    /// <summary>Who the simulated chip is: it draws its id once, from noise that is the same in each simulation.</summary>
    private static async Task<string> DeviceIdAsync()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var decoder = new FrameDecoder();
        ReadOnlySpan<byte> bytes = await board.Exchange(500, default);
        while (decoder.TryRead(ref bytes, out ReadOnlySpan<byte> payload))
        {
            if (HelloMessage.TryRead(payload, out HelloMessage hello)) return hello.DeviceId.ToString("X16", CultureInfo.InvariantCulture);
        }

        throw new InvalidOperationException("The board says no hello.");
    }

    [GeneratedRegex(@"Dashboard: (\S+)\r?\n")]
    private static partial Regex DashboardLine();
}
