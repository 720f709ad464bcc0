using System.Buffers;
using System.IO.Pipelines;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Rig.Control;

namespace RigDaq.Firmware.Tests.LockStep;

/// <summary>
/// The cable between the real image and the daemon in lock step: both clocks stand until the next slice. A slice is: the board runs, its
/// bytes are taken and worked off, the daemon's clock goes on by as much, and whatever is due then is done. Nothing that happens on the
/// line hangs on how fast this machine is.
/// </summary>
internal sealed class LockStepCable(ILockStepBoard board, FakeTimeProvider time)
{
    /// <summary>Shorter than anything that either side waits for, the answer to a command apart.</summary>
    public static readonly TimeSpan Slice = TimeSpan.FromMilliseconds(5);

    private static readonly TimeSpan TakenMax = TimeSpan.FromSeconds(20);
    private readonly ArrayBufferWriter<byte> _fromHost = new();
    private Task _lastWords = Task.CompletedTask;
    private Pipe _toHost = NewPipe();
    private Pipe _toDevice = new();
    private volatile bool _isOpen;

    /// <summary>What the host says is lost: a broken transmit wire.</summary>
    public bool HostIsMute { get; set; }

    /// <summary>Pulled out: the host finds no device, the board hears and reaches nobody.</summary>
    public bool IsUnplugged { get; private set; }

    /// <summary>Whether the host has said something that the board has not heard yet, because time stands.</summary>
    public bool HostHasSpoken
    {
        get
        {
            TakeFromHost();
            return _fromHost.WrittenCount > 0;
        }
    }

    /// <summary>The host opens its end.</summary>
    public IDuplexPipe Connect()
    {
        if (IsUnplugged) throw new IOException("unplugged");
        (_toHost, _toDevice) = (NewPipe(), new Pipe());
        _isOpen = true;
        return new End(_toHost.Reader, _toDevice.Writer);
    }

    public void Unplug()
    {
        IsUnplugged = true;
        _isOpen = false;
        _toHost.Writer.Complete();
    }

    public void PlugIn() => IsUnplugged = false;

    /// <summary>One slice of both clocks.</summary>
    public async Task Step(RigController rig)
    {
        await Carry();
        await rig.CaughtUpAsync().WaitAsync(TakenMax);
        time.Advance(Slice);
        await rig.CaughtUpAsync().WaitAsync(TakenMax);
    }

    /// <summary>The same while the daemon ends: nobody may be there any more who takes what comes.</summary>
    public async Task StepAtEnd()
    {
        TakeFromHost();
        byte[] arrived = await board.Exchange((int)Slice.TotalMilliseconds, _fromHost.WrittenMemory);
        _fromHost.Clear();
        if (_isOpen && _lastWords.IsCompleted) _lastWords = _toHost.Writer.WriteAsync(arrived).AsTask();
        time.Advance(Slice);
    }

    private async Task Carry()
    {
        TakeFromHost();
        byte[] arrived = await board.Exchange((int)Slice.TotalMilliseconds, HostIsMute ? default : _fromHost.WrittenMemory);
        _fromHost.Clear();
        if (arrived.Length == 0 || !_isOpen) return;
        // Completes when the other side has taken all of it, or has gone.
        await _toHost.Writer.WriteAsync(arrived).AsTask().WaitAsync(TakenMax);
    }

    private void TakeFromHost()
    {
        if (!_toDevice.Reader.TryRead(out ReadResult result)) return;
        if (_isOpen) foreach (ReadOnlyMemory<byte> piece in result.Buffer) _fromHost.Write(piece.Span);
        _toDevice.Reader.AdvanceTo(result.Buffer.End);
    }

    private static Pipe NewPipe()
        => new(new PipeOptions(pauseWriterThreshold: 1, resumeWriterThreshold: 1, useSynchronizationContext: false));

    private sealed record End(PipeReader Input, PipeWriter Output) : IDuplexPipe;
}
