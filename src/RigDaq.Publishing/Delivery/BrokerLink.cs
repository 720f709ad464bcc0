using Microsoft.Extensions.Logging;
using MQTTnet;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Delivery;

/// <summary>Keeps one connection to the broker: opens it, lets <c>work</c> use it until it ends, waits, opens it again. The library has no
/// reconnect of its own.</summary>
internal sealed class BrokerLink(string name, Func<MqttClientOptions> options, BrokerAddress address, Namesake? namesake, TimeProvider time,
    ILogger logger)
{
    private readonly Backoff _backoff = new();
    private volatile bool _isUp;
    private string _lastError = "";

    /// <summary>Whether the broker is there.</summary>
    internal bool IsUp => _isUp;

    /// <summary>Why not; empty when it is.</summary>
    internal string LastError => Volatile.Read(ref _lastError);

    /// <summary>Runs until cancelled.</summary>
    internal async Task RunAsync(Func<BrokerSession, CancellationToken, Task> work, CancellationToken cancellation)
    {
        while (!cancellation.IsCancellationRequested)
        {
            bool wasTakenOver = false;
            try
            {
                if (namesake is not null && await namesake.IsOnlineAsync(cancellation).ConfigureAwait(false))
                    throw new IOException(PublishingText.NamesakeOnline(address.RigName));
                await using BrokerSession session = await BrokerSession.OpenAsync(options(), time, cancellation).ConfigureAwait(false);
                WentUp();
                using var either = CancellationTokenSource.CreateLinkedTokenSource(cancellation, session.Ended);
                try
                {
                    await work(session, either.Token).ConfigureAwait(false);
                }
                finally
                {
                    wasTakenOver = session.WasTakenOver;
                }
            }
            catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
            {
                break;
            }
            catch (OperationCanceledException)
            {
                WentDown(wasTakenOver ? PublishingText.NamesakeOnline(address.RigName) : PublishingText.BrokerClosed);
            }
            catch (Exception e)
            {
                // An edge: whatever goes wrong with the broker must never end publishing, let alone the program.
                WentDown(wasTakenOver ? PublishingText.NamesakeOnline(address.RigName) : e.Message);
            }

            try
            {
                // Whoever took the place shall have it: it is looked for again when that one is gone.
                await Task.Delay(wasTakenOver ? Backoff.Longest : _backoff.Next(), time, cancellation).ConfigureAwait(false);
            }
            catch (OperationCanceledException)
            {
                break;
            }
        }

        _isUp = false;
    }

    private void WentUp()
    {
        _isUp = true;
        _backoff.Reset();
        Volatile.Write(ref _lastError, "");
        logger.LogInformation("Publishing of {What} is connected to {Broker}.", name, address.Words);
    }

    private void WentDown(string error)
    {
        _isUp = false;
        // One line a change, not one a try.
        if (Interlocked.Exchange(ref _lastError, error) == error) return;
        logger.LogWarning("Publishing of {What} waits for {Broker}: {Error} {Remedy} Nothing that was measured is lost.",
            name, address.Words, error, address.Remedy);
    }
}
