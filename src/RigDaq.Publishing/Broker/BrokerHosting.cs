using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using MQTTnet.AspNetCore;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Settings;

namespace RigDaq.Publishing.Broker;

/// <summary>Puts the broker into the one web host. Kestrel listens, not the broker's own adapter: a port that is taken is an error then,
/// and the first packet can be looked at before the broker sees it.</summary>
public static class BrokerHosting
{
    /// <summary>Messages that the broker itself has room for, for one client. It would drop the oldest of more without a word to whoever
    /// sent it; <see cref="SessionBook.QueuedMax"/> sees that it never comes to that.</summary>
    internal const int PendingMessagesMax = 2 * SessionBook.QueuedMax;

    /// <summary>Registers the broker.</summary>
    /// <param name="services">The host's services.</param>
    /// <param name="options">Where it listens and who may connect.</param>
    /// <param name="topicRoot">Below this only the publisher in this process may publish.</param>
    public static IServiceCollection AddRigDaqBroker(this IServiceCollection services, EmbeddedBrokerOptions options,
        string topicRoot = Topics.RootDefault)
    {
        services.AddSingleton(provider => new EmbeddedBroker(options, topicRoot, provider.GetService<TimeProvider>()
            ?? TimeProvider.System));
        services.AddHostedMqttServerWithServices(server => server
            .WithoutDefaultEndpoint()
            .WithPersistentSessions()
            .WithMaxPendingMessagesPerClient(PendingMessagesMax));
        services.AddMqttConnectionHandler();
        services.AddConnections();
        return services;
    }

    /// <summary>Makes an endpoint of Kestrel's the broker's: <c>kestrel.Listen(address, port, l => l.UseRigDaqBroker())</c>.</summary>
    public static ListenOptions UseRigDaqBroker(this ListenOptions listen)
    {
        var broker = listen.ApplicationServices.GetRequiredService<EmbeddedBroker>();
        broker.ListensOn(listen);
        listen.Use(next => connection => broker.Guard.RunAsync(connection, next));
        listen.UseMqtt();
        return listen;
    }

    /// <summary>Joins the rules to the broker; called once, after the application was built and before it runs.</summary>
    public static IApplicationBuilder UseRigDaqBroker(this IApplicationBuilder app)
    {
        var broker = app.ApplicationServices.GetRequiredService<EmbeddedBroker>();
        return app.UseMqttServer(broker.Attach);
    }
}
