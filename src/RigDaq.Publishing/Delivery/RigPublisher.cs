using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Delivery;

/// <summary>Publishes the state, live force, alarms and results. No call here waits for a broker; live data may be lost and is counted,
/// results never are. Safe for many threads, except <see cref="Live"/>, which one thread calls.</summary>
public sealed class RigPublisher : BackgroundService
{
    /// <summary>How many connections it keeps: one for what is acknowledged, one for live force.</summary>
    internal const int Connections = 2;

    private readonly Topics _topics;
    private readonly ResultsChannel _results;
    private readonly LiveChannel _live;
    private readonly LiveBlocks _blocks;
    private readonly BrokerLink _resultsLink;
    private readonly BrokerLink _liveLink;
    private readonly IOutbox _outbox;
    private readonly BrokerAddress _address;
    private readonly IHostApplicationLifetime _lifetime;

    /// <summary>Makes a publisher; it connects when the host has started.</summary>
    internal RigPublisher(PublishingOptions options, IOutbox outbox, EmbeddedBroker? broker, IHostApplicationLifetime lifetime,
        TimeProvider time, ILogger<RigPublisher> logger)
    {
        _topics = new Topics(options.RigName, options.TopicRoot);
        _outbox = outbox;
        _lifetime = lifetime;
        _address = new BrokerAddress(options, _topics, broker);
        string instance = Guid.NewGuid().ToString("N");
        // In its own broker nobody else can have its name.
        Namesake? namesake = _address.IsExternal ? new Namesake(_address, _topics, instance, time) : null;
        _results = new ResultsChannel(outbox, _topics, options.Consumers, instance, time, logger);
        _live = new LiveChannel(_topics, time);
        _blocks = new LiveBlocks(options.LiveBlockMilliseconds / 1000.0, _live.Add);
        _resultsLink = new BrokerLink(PublishingText.LinkOfResults, () => _address.ClientOptions("results", withWill: true), _address,
            namesake, time, logger);
        _liveLink = new BrokerLink(PublishingText.LinkOfLiveForce, () => _address.ClientOptions("live", withWill: false), _address,
            namesake, time, logger);
        if (broker is not null) broker.Subscribed += _results.Welcome;
    }

    /// <summary>How publishing stands.</summary>
    public PublishingStatus Status => new(_address.Words, _resultsLink.IsUp, _liveLink.IsUp, _outbox.Count, _results.IsUnclaimed,
        _live.Blocks.Dropped, _results.Alarms.Dropped, _resultsLink.LastError.Length > 0 ? _resultsLink.LastError : _results.Refusal);

    /// <summary>Publishes where the rig stands, retained; only the latest matters.</summary>
    public void State(StateMessage state) => _results.Set(state);

    /// <summary>Publishes one sample of live force, in blocks. Called by one thread.</summary>
    /// <param name="timeSeconds">Device time.</param>
    /// <param name="forceNewtons">Force above zero; a value that is not finite counts as lost.</param>
    /// <param name="crossheadMillimetres">Where the crosshead is; null where it is not known.</param>
    public void Live(double timeSeconds, double forceNewtons, double? crossheadMillimetres) =>
        _blocks.Add(timeSeconds, forceNewtons, crossheadMillimetres);

    /// <summary>Publishes an alarm.</summary>
    public void Alarm(AlarmMessage alarm)
    {
        _results.Alarms.Add(alarm);
        _results.Wake();
    }

    /// <summary>Something was put into the outbox.</summary>
    public void Wake() => _results.Wake();

    /// <summary>Sends a study's runs again, marked as replayed; completes when all were sent.</summary>
    /// <param name="study">The study.</param>
    /// <param name="runs">Its runs, from the archive.</param>
    /// <param name="cancellation">Ends the waiting, not the replay.</param>
    /// <exception cref="IOException">The broker went away meanwhile.</exception>
    /// <exception cref="InvalidOperationException">Too many replays wait already.</exception>
    public Task<ReplayResult> ReplayAsync(Study study, IReadOnlyList<Run> runs, CancellationToken cancellation)
    {
        var replay = new RunReplay(study, runs, _topics);
        _results.Add(replay);
        return replay.Done.WaitAsync(cancellation);
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (!await HasStartedAsync(stoppingToken).ConfigureAwait(false)) return;
        // The web host stops before this service does: the goodbye is said while the broker still listens.
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(stoppingToken, _lifetime.ApplicationStopping);
        try
        {
            await Task.WhenAll(
                _liveLink.RunAsync(_live.RunAsync, ending.Token),
                _resultsLink.RunAsync(
                    async (session, ended) =>
                    {
                        try
                        {
                            await _results.RunAsync(session, ended).ConfigureAwait(false);
                        }
                        finally
                        {
                            if (ending.IsCancellationRequested) await _results.EndAsync(session).ConfigureAwait(false);
                        }
                    },
                    ending.Token)).ConfigureAwait(false);
        }
        finally
        {
            _results.Close();
        }
    }

    private async Task<bool> HasStartedAsync(CancellationToken stopping)
    {
        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        await using CancellationTokenRegistration a = _lifetime.ApplicationStarted.Register(() => started.TrySetResult());
        await using CancellationTokenRegistration b = stopping.Register(() => started.TrySetCanceled(stopping));
        try
        {
            await started.Task.ConfigureAwait(false);
            return true;
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }
}

/// <summary>How publishing stands.</summary>
/// <param name="Broker">Its address in words.</param>
/// <param name="ResultsUp">Whether the connection for results is up.</param>
/// <param name="LiveUp">Whether the connection for live force is up.</param>
/// <param name="Waiting">Messages in the outbox.</param>
/// <param name="Unclaimed">Whether they wait because nobody listens.</param>
/// <param name="LiveBlocksDropped">Blocks of live force that were lost.</param>
/// <param name="AlarmsDropped">Alarms that were lost.</param>
/// <param name="Problem">What is wrong, in words; empty where nothing is.</param>
public sealed record PublishingStatus(string Broker, bool ResultsUp, bool LiveUp, int Waiting, bool Unclaimed, long LiveBlocksDropped,
    long AlarmsDropped, string Problem);
