namespace RigDaq.App.Jobs;

/// <summary>Between any two stretches of its work a job says how far it is, and learns here whether it was called off.</summary>
internal sealed class JobPace(CancellationToken cancellation)
{
    private long _progress;

    /// <summary>How much is done, and of how much; 0 of 0 before the first step.</summary>
    public (int Done, int Of) Progress
    {
        get
        {
            long both = Volatile.Read(ref _progress);
            return ((int)(both >> 32), (int)both);
        }
    }

    /// <summary>A stretch is done.</summary>
    /// <param name="done">How many.</param>
    /// <param name="of">Of how many.</param>
    /// <exception cref="OperationCanceledException">It was called off.</exception>
    public void Step(int done, int of)
    {
        Volatile.Write(ref _progress, ((long)done << 32) | (uint)of);
        cancellation.ThrowIfCancellationRequested();
    }
}
