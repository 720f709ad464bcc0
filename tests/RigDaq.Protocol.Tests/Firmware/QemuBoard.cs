using System.Diagnostics;
using System.Globalization;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>
/// The image for a Cortex-M3 in Debian's qemu, in lock step: it counts instructions for time, stops once a millisecond, and while it stands
/// its pins, its cell and its step driver are the world's, which is here.
/// </summary>
internal sealed class QemuBoard : ILockStepBoard
{
    /// <summary>What the cell gives, and without a force.</summary>
    private const double CountsPerNewton = 1e4, ZeroCounts = 84_000, StepsPerMillimetre = 400;

    /// <summary>GPIO port B of the board in qemu's tree of objects.</summary>
    private const string PinsOfInputs = "/machine/unattached/device[9]";

    private const int WorldMilliseconds = 5, LowerSwitchSteps = -200;
    private readonly Process _process;
    private readonly string _folder;
    private readonly Socket _line;
    private readonly Socket _driverLine;
    private readonly Socket _pins;
    private readonly GdbLink _gdb;
    private readonly Dictionary<string, uint> _symbols;
    private readonly StepDriver _driver = new();
    private readonly byte[] _buffer = new byte[8192];
    private (double Stiffness, double Slack, double Break, int Origin)? _specimen;
    private int _milliseconds;
    private bool _lowerClosed;

    private QemuBoard(Process process, string folder, Socket line, Socket driverLine, Socket pins, GdbLink gdb, Dictionary<string,
        uint> symbols) =>
        (_process, _folder, _line, _driverLine, _pins, _gdb, _symbols) = (process, folder, line, driverLine, pins, gdb, symbols);

    /// <summary>Builds the image where it is not built yet, and switches the board on.</summary>
    public static async Task<QemuBoard> Start()
    {
        FirmwareTools.Need("make", "python3", "arm-none-eabi-gcc", "qemu-system-arm");
        string built = FirmwareTools.BuildFolder, image = Path.Combine(built, "simulated-cortex-m.elf");
        await FirmwareTools.Run("make", "cortex-m", $"B={built}");
        Dictionary<string, uint> symbols = (await FirmwareTools.Run("arm-none-eabi-nm", image)).Split('\n').Select(l => l.Split(' '))
            .Where(w => w.Length == 3)
            .GroupBy(w => w[2])
                .ToDictionary(g => g.Key, g => uint.Parse(g.First()[0], NumberStyles.HexNumber, CultureInfo.InvariantCulture));
        string folder = Directory.CreateTempSubdirectory("qemu").FullName; // short: a socket's path holds about 100 characters
        string[] arguments =
        [
            "-M", "lm3s6965evb", "-kernel", image, "-device",
                $"loader,file={Path.Combine(built, "settings.bin")},addr=0x3f000,force-raw=on",
            "-display", "none", "-monitor", "none", "-S", "-icount", "shift=6,sleep=on",
            "-chardev", $"socket,id=line,path={folder}/line,server=on,wait=off", "-serial", "chardev:line",
            "-chardev", $"socket,id=driver,path={folder}/driver,server=on,wait=off", "-serial", "chardev:driver",
            "-gdb", $"unix:{folder}/gdb,server=on,wait=off", "-qtest", $"unix:{folder}/pins,server=on,wait=off", "-qtest-log", "/dev/null",
        ];
        Process process = Process.Start(new ProcessStartInfo("qemu-system-arm", arguments) { RedirectStandardError = true })!;
        process.ErrorDataReceived += (_, e) => { if (e.Data is { } said) TestContext.Current.TestOutputHelper?.WriteLine(said); };
        process.BeginErrorReadLine();
        try
        {
            var board = new QemuBoard(
                process, folder, await Connect(folder, "line"), await Connect(folder, "driver"), await Connect(folder, "pins"),
                new GdbLink(await Connect(folder, "gdb")), symbols);
            await board._gdb.Ask("?");
            string stop = string.Create(CultureInfo.InvariantCulture, $"Z0,{symbols["millisecond_is_done"] & ~1u:x},2");
            Assert.Equal("OK", await board._gdb.Ask(stop));
            foreach ((int pin, int level) in ((int, int)[])[(0, 0), (1, 0), (2, 0), (3, 0), (4, 1), (5, 1)]) await board.SetPin(pin, level);
            return board;
        }
        catch
        {
            process.Kill(); // nobody else ends it
            throw;
        }
    }

    /// <inheritdoc/>
    public async Task<byte[]> Exchange(int milliseconds, ReadOnlyMemory<byte> toDevice)
    {
        if (!toDevice.IsEmpty) await _line.SendAsync(toDevice);
        var arrived = new List<byte>();
        for (int i = 0; i < milliseconds; i++)
        {
            // Its own `c` does not leave the address at which it stands.
            await _gdb.Ask("s");
            await _gdb.Ask("c");
            Drain(_line, arrived);
            var asked = new List<byte>();
            Drain(_driverLine, asked);
            byte[] answer = _driver.Answer(asked);
            if (answer.Length > 0) await _driverLine.SendAsync(answer);
            if (_milliseconds++ % WorldMilliseconds == 0) await World();
        }

        return [.. arrived];
    }

    /// <inheritdoc/>
    public async Task<string> Ask(string command)
    {
        string[] words = command.Split(' ');
        double Number(int i) => double.Parse(words[i], CultureInfo.InvariantCulture);
        switch (words[0])
        {
            case "guard": await SetPin(0, words[1] == "1" ? 0 : 1); break;
            case "estop": await SetPin(1, words[1] == "1" ? 1 : 0); break;
            case "upper": await SetPin(3, words[1] == "1" ? 1 : 0); break;
            case "driver": await SetPin(4, words[1] == "1" ? 0 : 1); break;
            case "stall": _driver.Status = words[1] == "1" ? 1u : 0u; break;
            case "driver-silent": _driver.IsSilent = words[1] == "1"; break;
            case "converter": await _gdb.Write(_symbols["simulated_dead"], [words[1] == "1" ? (byte)0 : (byte)1]); break;
            case "stuck": await _gdb.Write(_symbols["simulated_stuck"], [(byte)Number(1)]); break;
            case "starve": await _gdb.Write(_symbols["simulated_starve"], [(byte)Number(1)]); break;
            case "torn": await _gdb.Write(_symbols["simulated_torn"], [(byte)Number(1)]); break;
            case "reference": await _gdb.Write(_symbols["simulated_status"], [words[1] == "1" ? (byte)0 : (byte)0x20]); break;
            case "specimen":
                _specimen = Number(1) > 0 ? (Number(1), Number(2), Number(3), await Position()) : null;
                break;
            default: throw new ArgumentException($"The board has no {words[0]}.", nameof(command));
        }

        return "ok";
    }

    /// <inheritdoc/>
    public async Task<JsonElement> Look()
    {
        int position = await Position();
        string seen = string.Create(CultureInfo.InvariantCulture, $$"""{ "position": {{position}}, "seconds": {{_milliseconds * 1e-3}} }""");
        return JsonDocument.Parse(seen).RootElement;
    }

    /// <summary>What the driver's registers hold.</summary>
    public IReadOnlyDictionary<byte, uint> DriverRegisters => _driver.Registers;

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
        foreach (Socket socket in (Socket[])[_line, _driverLine, _pins]) socket.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private static async Task<Socket> Connect(string folder, string name)
    {
        var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        for (int tries = 0; ; tries++)
        {
            try
            {
                await socket.ConnectAsync(new UnixDomainSocketEndPoint(Path.Combine(folder, name)));
                return socket;
            }
            catch (SocketException) when (tries < 500)
            {
                await Task.Delay(20); // it makes its sockets as it starts
            }
        }
    }

    private async Task World()
    {
        int position = await Position();
        bool lower = position <= LowerSwitchSteps;
        if (lower != _lowerClosed) await SetPin(2, lower ? 1 : 0);
        _lowerClosed = lower;
        double newtons = 0;
        if (_specimen is { } s)
        {
            newtons = Math.Max(0, s.Stiffness * (((position - s.Origin) / StepsPerMillimetre) - s.Slack));
            if (newtons >= s.Break) (newtons, _specimen) = (0, null);
        }

        await _gdb.Write(_symbols["simulated_counts"], BitConverter.GetBytes((int)(ZeroCounts + (newtons * CountsPerNewton))));
    }

    private Task<int> Position() => _gdb.ReadInt32(_symbols["simulated_position"]);

    private async Task SetPin(int pin, int level)
    {
        await _pins
            .SendAsync(Encoding.ASCII.GetBytes(string
            .Create(CultureInfo.InvariantCulture, $"set_irq_in {PinsOfInputs} unnamed-gpio-in {pin} {level}\n")));
        int length = await _pins.ReceiveAsync(_buffer);
        Assert.StartsWith("OK", Encoding.ASCII.GetString(_buffer, 0, length), StringComparison.Ordinal);
    }

    private void Drain(Socket socket, List<byte> into)
    {
        while (socket.Available > 0)
        {
            int length = socket.Receive(_buffer);
            into.AddRange(_buffer.AsSpan(0, length));
        }
    }
}
