using System.IO.Pipelines;

namespace RigDaq.Rig.Links;

/// <summary>Passes a reader on, tells when the other side has completed, and can be finished from this side.</summary>
internal sealed class EndNoticingReader(PipeReader inner, Action ended) : PipeReader
{
    private volatile bool _finished;

    /// <summary>The next read, and one that is waiting, comes back as completed.</summary>
    public void Finish()
    {
        _finished = true;
        inner.CancelPendingRead();
    }

    public override async ValueTask<ReadResult> ReadAsync(CancellationToken cancellationToken = default) =>
        Seen(await inner.ReadAsync(cancellationToken).ConfigureAwait(false));

    public override bool TryRead(out ReadResult result)
    {
        if (!inner.TryRead(out result)) return false;
        result = Seen(result);
        return true;
    }

    public override void AdvanceTo(SequencePosition consumed) => inner.AdvanceTo(consumed);

    public override void AdvanceTo(SequencePosition consumed, SequencePosition examined) => inner.AdvanceTo(consumed, examined);

    public override void CancelPendingRead() => inner.CancelPendingRead();

    public override void Complete(Exception? exception = null) => inner.Complete(exception);

    private ReadResult Seen(ReadResult result)
    {
        if (result.IsCompleted) ended();
        return _finished ? new ReadResult(result.Buffer, isCanceled: false, isCompleted: true) : result;
    }
}
