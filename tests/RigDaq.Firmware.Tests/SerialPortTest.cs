using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Firmware.Tests;

/// <summary>The real image behind a serial port of the system, paced to real time: the cases that have no meaning in lock step.</summary>
public sealed class SerialPortTest
{
    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(30);

    [Fact]
    public async Task An_unplugged_board_is_missed_and_found_again()
    {
        string folder = Directory.CreateTempSubdirectory("rig").FullName;
        try
        {
            string port = Path.Combine(folder, "port");
            SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.RealTime, "--link", port);
            await using RigController controller = ControllerAt(port, SerialLinkSettings.BaudRateDefault);
            controller.Start();
            RigSnapshot up = await Until(controller, s => s.Link == LinkStage.Up && s.Counts is not null, "up");
            Assert.Equal("Rig on an 8-bit board", up.Device!.Name);
            await board.DisposeAsync();
            await Until(controller, s => s.LinksLost == 1, "missed");
            await using SimulatedBoard again = await SimulatedBoard.Start(SimulatedBoard.RealTime, "--link", port);
            await Until(controller, s => s.Link == LinkStage.Up, "up again");
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task A_wrong_baud_rate_is_said_to_be_one()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.RealTime, "--check-baud");
        await using RigController controller = ControllerAt(board.PortPath, 115_200);
        controller.Start();
        RigSnapshot seen = await Until(controller, s => s.LinkMessage.Contains("baud rate differs", StringComparison.Ordinal), "told");
        Assert.NotEqual(LinkStage.Up, seen.Link);
    }

    private static RigController ControllerAt(string port, int baudRate) => new(
        new RigServices
        {
            Link = new SerialRigLinkOpener(new SerialLinkSettings { Path = port, BaudRate = baudRate }),
            Detectors = (settings, noise) => new Core.Signal.BreakDetector(settings, noise),
            Captures = new MemoryJournal(),
            Recorder = new MemoryRecorder(),
            Calibrations = FirmwareBench.CalibrationOf,
        },
        FirmwareBench.Options);

    private static async Task<RigSnapshot> Until(RigController controller, Func<RigSnapshot, bool> seen, string what)
    {
        long began = TimeProvider.System.GetTimestamp();
        while (true)
        {
            RigSnapshot now = controller.Snapshot;
            if (seen(now)) return now;
            Assert.True(TimeProvider.System.GetElapsedTime(began) < WaitMax, $"Not {what} after {WaitMax}: {now.Link} {now.LinkMessage}");
            await Task.Delay(10, TestContext.Current.CancellationToken); // wall time: a real port of the system
        }
    }
}
