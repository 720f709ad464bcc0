using RigDaq.App.Alarms;
using RigDaq.App.Configuration;
using RigDaq.App.Push;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Messages;

namespace RigDaq.Daemon.Hosting;

/// <summary>Who hears of alarms besides the diary: the broker, a command of one's own, browsers.</summary>
internal sealed class AlarmTellers : IAsyncDisposable
{
    private readonly AlarmCommand? _command;
    private readonly PushSender _push;

    /// <summary>Begins.</summary>
    /// <param name="options">Say which there are.</param>
    /// <param name="services">What of the program they use.</param>
    /// <param name="time">The clock.</param>
    public AlarmTellers(DaemonOptions options, IServiceProvider services, TimeProvider time)
    {
        if (options.Alarm.Command.Length > 0)
            _command = new AlarmCommand(options.Alarm.Command, options.Name, time, services.GetRequiredService<ILogger<AlarmCommand>>());
        _push = new PushSender(services.GetRequiredService<PushBook>(), options.Name, options.Alarm.Contact,
            services.GetRequiredService<ILogger<PushSender>>());
        Tell = [.. new Action<AlarmMessage>?[]
        {
            services.GetService<RigPublisher>() is { } publisher ? publisher.Alarm : null,
            _command is { } command ? command.Tell : null,
            _push.Tell,
        }.OfType<Action<AlarmMessage>>()];
    }

    /// <summary>Each takes an alarm at once.</summary>
    public IReadOnlyList<Action<AlarmMessage>> Tell { get; }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_command is not null) await _command.DisposeAsync().ConfigureAwait(false);
        await _push.DisposeAsync().ConfigureAwait(false);
    }
}
