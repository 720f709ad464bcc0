using RigDaq.App.Callers;

namespace RigDaq.Web.Access;

/// <summary>Somebody who has logged in.</summary>
/// <param name="Name">As whom.</param>
/// <param name="Role">What they may do.</param>
/// <param name="Issue">The issue of their account that they logged in with.</param>
/// <param name="From">From which address.</param>
/// <param name="BegunAt">When.</param>
internal sealed record Session(string Name, CallerRole Role, int Issue, string From, DateTimeOffset BegunAt) : IDisposable
{
    private readonly CancellationTokenSource _over = new();

    /// <summary>When something was last asked for.</summary>
    public DateTimeOffset UsedAt { get; set; } = BegunAt;

    /// <summary>When it ended; null while it goes on.</summary>
    public DateTimeOffset? EndedAt { get; private set; }

    /// <summary>Ends with the session, and so does whatever it has open.</summary>
    public CancellationToken Over => _over.Token;

    /// <summary>Ends it. What whoever had it may still do is stop.</summary>
    public void End(DateTimeOffset at)
    {
        if (EndedAt is not null) return;
        EndedAt = at;
        _over.Cancel();
    }

    /// <inheritdoc/>
    public void Dispose() => _over.Dispose();
}
