using System.Buffers;
using System.Diagnostics;
using System.IO.Pipelines;
using RigDaq.Protocol.Conformance;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Protocol.Tests.Conformance;

/// <summary>The real image in a simulated chip, in lock step.</summary>
internal sealed class BoardLine(ILockStepBoard board) : IConformanceLine
{
    public TimeSpan Elapsed { get; private set; }

    public async ValueTask<ReadOnlyMemory<byte>> ExchangeAsync(ReadOnlyMemory<byte> toDevice, TimeSpan duration)
    {
        Elapsed += duration;
        return await board.Exchange((int)duration.TotalMilliseconds, toDevice);
    }
}

/// <summary>The virtual rig, stepped.</summary>
internal sealed class VirtualRigLine(VirtualRig rig) : IConformanceLine
{
    private readonly IDuplexPipe _cable = rig.ConnectInProcess();

    /// <summary>Sets something of its world.</summary>
    public Task SetWorld(string what, int value)
    {
        TimeSpan lasts = TimeSpan.FromHours(1), ended = TimeSpan.Zero;
        switch (what)
        {
            case "guard" when value == 0: rig.OpenGuard(); break;
            case "guard": rig.CloseGuard(); break;
            case "converter": rig.Inject(new VirtualFault.SilentConverter(value == 0 ? lasts : ended)); break;
            case "stuck": rig.Inject(new VirtualFault.StuckConverter(value == 0 ? ended : lasts)); break;
            case "starve": rig.Inject(new VirtualFault.StarvedConverter(Math.Max(value, 2), value == 0 ? ended : lasts)); break;
            default: throw new ArgumentException($"The virtual rig's world has no {what}.", nameof(what));
        }

        return Task.CompletedTask;
    }

    public TimeSpan Elapsed { get; private set; }

    public async ValueTask<ReadOnlyMemory<byte>> ExchangeAsync(ReadOnlyMemory<byte> toDevice, TimeSpan duration)
    {
        Elapsed += duration;
        if (!toDevice.IsEmpty) await _cable.Output.WriteAsync(toDevice);
        rig.Advance(duration);
        if (!_cable.Input.TryRead(out ReadResult result)) return default;
        byte[] arrived = result.Buffer.ToArray();
        _cable.Input.AdvanceTo(result.Buffer.End);
        return arrived;
    }
}

/// <summary>A device that is a program led on standard input in lock step, a line at a time.</summary>
internal class ProgramLine(ProcessStartInfo start) : IConformanceLine, IAsyncDisposable
{
    private static readonly TimeSpan AnswerMax = TimeSpan.FromSeconds(20);
    private readonly Process _process = Process.Start(Redirected(start))!;

    public TimeSpan Elapsed { get; private set; }

    public async ValueTask<ReadOnlyMemory<byte>> ExchangeAsync(ReadOnlyMemory<byte> toDevice, TimeSpan duration)
    {
        Elapsed += duration;
        string answer = await Ask($"exchange {(int)duration.TotalMilliseconds} {Convert.ToHexString(toDevice.Span)}");
        return Convert.FromHexString(answer["ok ".Length..]);
    }

    /// <summary>Sets something of its world.</summary>
    public Task SetWorld(string what, int value) => Ask($"{what} {value}");

    public virtual async ValueTask DisposeAsync()
    {
        _process.StandardInput.Close(); // ends it
        using var limit = new CancellationTokenSource(AnswerMax);
        await _process.WaitForExitAsync(limit.Token);
        _process.Dispose();
    }

    private async Task<string> Ask(string line)
    {
        await _process.StandardInput.WriteLineAsync(line);
        await _process.StandardInput.FlushAsync();
        string? answer = await _process.StandardOutput.ReadLineAsync().WaitAsync(AnswerMax);
        Assert.StartsWith("ok", answer, StringComparison.Ordinal);
        return answer!;
    }

    private static ProcessStartInfo Redirected(ProcessStartInfo start)
    {
        start.RedirectStandardInput = true;
        start.RedirectStandardOutput = true;
        return start;
    }
}

/// <summary>A stranger's device in another language; with one of its lines made wrong where that is wanted.</summary>
internal sealed class StrangerLine : ProgramLine
{
    private readonly string _folder;

    public StrangerLine(string right = "", string wrong = "", string program = "moving.py")
        : this(Directory.CreateTempSubdirectory("stranger").FullName, right, wrong, program)
    {
    }

    private StrangerLine(string folder, string right, string wrong, string program)
        : base(Script(folder, right, wrong, program)) => _folder = folder;

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    private static ProcessStartInfo Script(string folder, string right, string wrong, string program)
    {
        bool isFound = false;
        foreach (string file in (string[])["device.py", "moving.py", "channels.py"])
        {
            string script = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Strangers", file));
            isFound |= script.Contains(right, StringComparison.Ordinal);
            if (right.Length > 0) script = script.Replace(right, wrong, StringComparison.Ordinal);
            File.WriteAllText(Path.Combine(folder, file), script);
        }

        Assert.True(isFound, $"No script holds {right}.");
        return new ProcessStartInfo("python3", ["-B", Path.Combine(folder, program)]);
    }
}
