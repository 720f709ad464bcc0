using System.Diagnostics;
using System.Net.Sockets;
using System.Text.Json;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>
/// The real image of the AVR firmware in a simulated chip, as a separate program, led by its control socket. In lock step its
/// clock stands until it is told to go on: the same commands give the same frames every time.
/// </summary>
internal sealed class SimulatedBoard : ILockStepBoard
{
    public const double LockStep = -1;
    public const double RealTime = 1;

    private static readonly TimeSpan AnswerMax = TimeSpan.FromSeconds(20);
    private readonly Process _process;
    private readonly string _folder;
    private readonly Socket _socket;
    private readonly StreamReader _answers;

    private SimulatedBoard(Process process, string folder, Socket socket)
    {
        _process = process;
        _folder = folder;
        _socket = socket;
        _answers = new StreamReader(new NetworkStream(socket));
    }

    /// <summary>The serial port that a host opens.</summary>
    public string PortPath => Path.Combine(_folder, "tty");

    /// <summary>Builds image and simulator where they are not built yet, and switches the board on.</summary>
    public static async Task<SimulatedBoard> Start(double speed, params string[] furtherArguments)
    {
        FirmwareTools.Need("make", "gcc", "avr-gcc", "simavr");
        await FirmwareTools.Run("make", "avr", "sim", $"B={FirmwareTools.BuildFolder}");
        string folder = Directory.CreateTempSubdirectory("rig").FullName; // short: a socket's path holds about 100 characters
        string control = Path.Combine(folder, "control");
        var start = new ProcessStartInfo(Path.Combine(FirmwareTools.BuildFolder, "simrig"))
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        string[] arguments =
        [
            "--elf", Path.Combine(FirmwareTools.BuildFolder, "simulated-250000.elf"), "--link", Path.Combine(folder, "tty"),
            "--control", control, "--speed", speed.ToString(System.Globalization.CultureInfo.InvariantCulture), .. furtherArguments,
        ];
        foreach (string argument in arguments) start.ArgumentList.Add(argument);
        Process process = Process.Start(start)!;
        process.ErrorDataReceived += (_, e) => { if (e.Data is { } line) TestContext.Current.TestOutputHelper?.WriteLine(line); };
        process.BeginErrorReadLine();
        try
        {
            string? first = await process.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken).AsTask().WaitAsync(AnswerMax);
            Assert.StartsWith("pty ", first, StringComparison.Ordinal);
            var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
            await socket.ConnectAsync(new UnixDomainSocketEndPoint(control));
            return new SimulatedBoard(process, folder, socket);
        }
        catch
        {
            process.Kill(); // or it would wait for its client for ever
            throw;
        }
    }

    /// <summary>Gives bytes to the device's UART, lets time go on, and takes what came from the device.</summary>
    public async Task<byte[]> Exchange(int milliseconds, ReadOnlyMemory<byte> toDevice) =>
        Convert.FromHexString((await Ask($"exchange {milliseconds} {Convert.ToHexString(toDevice.Span)}"))["ok ".Length..]);

    /// <summary>What happened at the pins, from the outside.</summary>
    public async Task<JsonElement> Look() => JsonDocument.Parse(await Ask("get")).RootElement;

    /// <summary>Sends a command of the control socket.</summary>
    public async Task<string> Ask(string command)
    {
        await _socket.SendAsync(System.Text.Encoding.ASCII.GetBytes(command + "\n"));
        string? answer = await _answers.ReadLineAsync().WaitAsync(AnswerMax);
        Assert.NotNull(answer);
        Assert.False(answer.StartsWith("error", StringComparison.Ordinal), answer);
        return answer;
    }

    /// <summary>Pulls the plug.</summary>
    public async ValueTask DisposeAsync()
    {
        _answers.Dispose();
        _socket.Dispose(); // the program ends by itself when its control socket closes
        using var limit = new CancellationTokenSource(AnswerMax);
        try
        {
            await _process.WaitForExitAsync(limit.Token);
        }
        catch (OperationCanceledException)
        {
            _process.Kill();
        }

        _process.Dispose();
        Directory.Delete(_folder, recursive: true);
    }
}
