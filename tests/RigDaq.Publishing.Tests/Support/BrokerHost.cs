using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using RigDaq.Core.Runs;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Settings;

namespace RigDaq.Publishing.Tests.Support;

/// <summary>The host as the daemon composes it, on a free port of loopback.</summary>
internal sealed class BrokerHost : IAsyncDisposable
{
    private readonly WebApplication _app;

    private BrokerHost(WebApplication app, MemoryOutbox outbox)
    {
        _app = app;
        Outbox = outbox;
    }

    public MemoryOutbox Outbox { get; }

    public RigPublisher Publisher => _app.Services.GetRequiredService<RigPublisher>();

    public EmbeddedBroker Broker => _app.Services.GetRequiredService<EmbeddedBroker>();

    public int Port => Broker.EndPoint!.Port;

    public static async Task<BrokerHost> StartAsync(
        Action<PublishingOptions>? configure = null, MemoryOutbox? outbox = null, int port = 0)
    {
        var options = new PublishingOptions { RigName = "bench-1" };
        options.Broker.Port = port;
        configure?.Invoke(options);
        outbox ??= new MemoryOutbox();
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.Services.AddSingleton<IOutbox>(outbox);
        builder.Services.AddRigDaqPublishing(options);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            if (options.UsesEmbeddedBroker) kestrel.Listen(IPAddress.Loopback, options.Broker.Port, l => l.UseRigDaqBroker());
            else kestrel.Listen(IPAddress.Loopback, 0);
        });
        WebApplication app = builder.Build();
        if (options.UsesEmbeddedBroker) app.UseRigDaqBroker();
        await app.StartAsync(TestContext.Current.CancellationToken);
        return new BrokerHost(app, outbox);
    }

    public async Task ConnectedAsync() =>
        await Eventually.TrueAsync(() => Publisher.Status is { ResultsUp: true, LiveUp: true }, "the publisher is connected");

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync(CancellationToken.None);
        await _app.DisposeAsync();
    }
}
