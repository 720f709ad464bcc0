using System.IO.Pipelines;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Rig.Control;

namespace RigDaq.Firmware.Tests;

/// <summary>
/// The cable between the real image and the real controller in lock step: both clocks stand until the next slice. A slice is: the board runs,
/// its bytes are taken, the controller's clock goes on by as much, and its loop has had its turn.
/// </summary>
internal sealed class LockStepCable(SimulatedBoard board, FakeTimeProvider time)
{
    /// <summary>As long as the control loop's own tick.</summary>
    public static readonly TimeSpan Slice = TimeSpan.FromMilliseconds(25);

    private static readonly TimeSpan TakenMax = TimeSpan.FromSeconds(2);
    private Pipe _toHost = NewPipe();
    private Pipe _toDevice = new();

    /// <summary>What the host says is lost: a broken transmit wire.</summary>
    public bool HostIsMute { get; set; }

    /// <summary>Plugs the host's end in.</summary>
    public IDuplexPipe Connect()
    {
        (_toHost, _toDevice) = (NewPipe(), new Pipe());
        return new End(_toHost.Reader, _toDevice.Writer);
    }

    /// <summary>One slice of both clocks.</summary>
    public async Task Step(RigController controller)
    {
        await Carry();
        // Letting go of a jog that is not there does nothing; its answer says that the loop has had its turn.
        await controller.JogAsync(0);
    }

    /// <summary>The same without waiting for the control loop, which may be ending.</summary>
    public async Task Carry()
    {
        byte[] toDevice = TakeFromHost();
        byte[] arrived = await board.Exchange((int)Slice.TotalMilliseconds, HostIsMute ? [] : toDevice);
        // The flush completes when the other side has taken all of it; one that has gone takes nothing any more.
        if (arrived.Length > 0) await Task.WhenAny(_toHost.Writer.WriteAsync(arrived).AsTask(), Task.Delay(TakenMax));
        time.Advance(Slice);
    }

    private byte[] TakeFromHost()
    {
        if (!_toDevice.Reader.TryRead(out ReadResult result)) return [];
        var bytes = new byte[result.Buffer.Length];
        System.Buffers.BuffersExtensions.CopyTo(result.Buffer, bytes);
        _toDevice.Reader.AdvanceTo(result.Buffer.End);
        return bytes;
    }

    private static Pipe NewPipe() => new(new PipeOptions(pauseWriterThreshold: 1, resumeWriterThreshold: 1, useSynchronizationContext: false));

    private sealed record End(PipeReader Input, PipeWriter Output) : IDuplexPipe;
}
