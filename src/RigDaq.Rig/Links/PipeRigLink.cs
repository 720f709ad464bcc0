using System.IO.Pipelines;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Links;

/// <summary>A link inside this process: the virtual rig's other side is a pair of pipes.</summary>
public sealed class PipeRigLink : IRigLink
{
    private readonly IDuplexPipe _pipe;
    private readonly TimeProvider _time;
    private readonly SemaphoreSlim _writing = new(1, 1);
    private readonly TaskCompletionSource<LinkEnd> _closed = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly EndNoticingReader _input;

    /// <summary>Takes over this side of a connection.</summary>
    /// <param name="name">For people.</param>
    /// <param name="pipe">This side.</param>
    /// <param name="time">For the bound of writes.</param>
    public PipeRigLink(string name, IDuplexPipe pipe, TimeProvider? time = null)
    {
        Name = name;
        _pipe = pipe;
        _time = time ?? TimeProvider.System;
        _input = new EndNoticingReader(pipe.Input, () => Close(new LinkEnd(LinkEndKind.Vanished, RigText.WentAway(Name))));
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public PipeReader Input => _input;

    /// <inheritdoc/>
    public Task<LinkEnd> Closed => _closed.Task;

    /// <inheritdoc/>
    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes)
    {
        if (!await _writing.WaitAsync(LinkTimes.WriteMax).ConfigureAwait(false)) throw WriteFailed(RigText.EarlierWriteNotEnded, null);
        try
        {
            if (_closed.Task.IsCompleted) throw new IOException((await _closed.Task.ConfigureAwait(false)).Message);
            ValueTask<FlushResult> write = _pipe.Output.WriteAsync(bytes);
            FlushResult flushed = write.IsCompleted ? await write.ConfigureAwait(false)
                : await write.AsTask().WaitAsync(LinkTimes.WriteMax, _time).ConfigureAwait(false);
            if (flushed.IsCompleted) throw WriteFailed(RigText.OtherSideGone, null);
        }
        catch (Exception e) when (e is TimeoutException or InvalidOperationException || (e is IOException && !_closed.Task.IsCompleted))
        {
            throw WriteFailed(e is TimeoutException ? RigText.LongerThanASecond : Sentence.Verbatim(e.Message), e);
        }
        finally
        {
            _writing.Release();
        }
    }

    /// <inheritdoc/>
    public void Close(LinkEnd reason)
    {
        if (!_closed.TrySetResult(reason)) return;
        // The reader may stand in ReadAsync: it is woken with a completed result rather than cancelled in mid-read.
        _input.Finish();
        try
        {
            _pipe.Output.Complete();
        }
        catch (InvalidOperationException)
        {
            // A write is under way on another thread: the other side sees the end when it gives up.
        }
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        Close(new LinkEnd(LinkEndKind.ClosedHere, RigText.WasClosed(Name)));
        return ValueTask.CompletedTask;
    }

    private IOException WriteFailed(Sentence why, Exception? cause)
    {
        var end = new LinkEnd(LinkEndKind.WriteFailed, RigText.WritingFailed(Name, why));
        Close(end);
        return new IOException(end.Message, cause);
    }
}
