namespace RigDaq.App.Rigs;

/// <summary>Starting a sequence and choosing the study that is worked on follow one another: neither sees the other half done.</summary>
internal sealed class SequenceStartGate : IDisposable
{
    /// <summary>Either takes a moment; who waits longer is told.</summary>
    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(10);

    private readonly SemaphoreSlim _turn = new(1, 1);

    internal async Task<Result> DoAsync(Func<Task<Result>> work)
    {
        if (!await _turn.WaitAsync(WaitMax).ConfigureAwait(false)) return Result.Refused("shared.busy");
        try
        {
            return await work().ConfigureAwait(false);
        }
        finally
        {
            _turn.Release();
        }
    }

    public void Dispose() => _turn.Dispose();
}
