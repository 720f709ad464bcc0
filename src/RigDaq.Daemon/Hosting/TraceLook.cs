using RigDaq.Archive;

namespace RigDaq.Daemon.Hosting;

/// <summary>
/// Reads the samples of each run once after a start, in the background and while nothing moves: the start itself reads every
/// other record. Damage in the database is then shown as any other (<see cref="RigArchive.Trouble"/>); a capture that no longer
/// brings back its run's samples is written to the log.
/// </summary>
internal sealed class TraceLook(RigArchive archive, Func<bool> isIdle, TimeProvider time, ILogger log) : BackgroundService
{
    /// <summary>So long after the start: whoever starts the rig is not kept waiting.</summary>
    public static readonly TimeSpan After = TimeSpan.FromMinutes(1);

    /// <summary>Between two runs, so that nobody who needs disk or database waits longer than for one.</summary>
    public static readonly TimeSpan Between = TimeSpan.FromMilliseconds(50);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await Task.Delay(After, time, stoppingToken).ConfigureAwait(false);
            foreach (string runId in archive.CapturedRuns())
            {
                while (!isIdle()) await Task.Delay(Between, time, stoppingToken).ConfigureAwait(false);
                Look(runId);
                await Task.Delay(Between, time, stoppingToken).ConfigureAwait(false);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or ObjectDisposedException)
        {
            // The program ends.
        }
    }

    private void Look(string runId)
    {
        try
        {
            if (archive.TraceFault(runId) is { } fault) log.LogWarning("{Fault}", fault);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            log.LogError("The samples of run {Run} cannot be read: {Why}", runId, e.Message);
        }
    }
}
