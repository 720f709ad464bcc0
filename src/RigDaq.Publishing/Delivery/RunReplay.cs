using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Delivery;

/// <summary>Sends a study's runs again, for a consumer that came late or lost what it had. The runs are read from the archive, marked as
/// replayed, and never enter the outbox.</summary>
internal sealed class RunReplay(Study study, IReadOnlyList<Run> runs, Topics topics)
{
    private readonly TaskCompletionSource<ReplayResult> _done = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Completes with what became of it.</summary>
    internal Task<ReplayResult> Done => _done.Task;

    internal async Task SendAsync(IMessageSink sink, CancellationToken cancellation)
    {
        int taken = 0, unclaimed = 0;
        try
        {
            foreach (Run run in runs)
            {
                OutboxMessage message = (RunMessage.From(run, study) with { Replayed = true }).ToOutbox();
                PublishAnswer answer = await sink.PublishAsync(topics.Below(message.Topic), message.Payload, retain: false, cancellation)
                    .ConfigureAwait(false);
                if (answer.Outcome == PublishOutcome.Taken) taken++;
                else unclaimed++;
            }

            _done.TrySetResult(new ReplayResult(runs.Count, taken, unclaimed));
        }
        catch (Exception e) when (e is IOException or OperationCanceledException)
        {
            _done.TrySetException(new IOException(PublishingText.ReplayCutOff(taken + unclaimed, runs.Count), e));
            throw;
        }
    }

    internal void Abandon() => _done.TrySetException(new IOException(PublishingText.ReplayNotBegun));
}

/// <summary>What became of a replay.</summary>
/// <param name="Runs">Runs that the study has.</param>
/// <param name="Taken">Runs that reached a subscriber's session.</param>
/// <param name="Unclaimed">Runs that nobody listened for.</param>
public sealed record ReplayResult(int Runs, int Taken, int Unclaimed);
