using System.Net;
using System.Net.Sockets;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Door;
using RigDaq.Daemon.Hosting;

namespace RigDaq.Daemon.Tests;

/// <summary>A daemon that has a data folder and takes commands for it, without a rig.</summary>
internal sealed class DoorHost : IAsyncDisposable
{
    private readonly WebApplication _app;

    private DoorHost(WebApplication app, RigArchive archive, Uri http) => (_app, Archive, Http) = (app, archive, http);

    public RigArchive Archive { get; }

    public Uri Http { get; }

    public DoorServer Door => _app.Services.GetRequiredService<DoorServer>();

    public static async Task<DoorHost> StartAsync(string dataFolder)
    {
        var archive = new RigArchive(dataFolder, TimeProvider.System, NullLogger.Instance);
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.Services.AddSingleton(archive);
        builder.Services.AddSingleton<CommandLineRunner>(CommandTree.RunAsync);
        builder.Services.AddSingleton<DoorServer>();
        var http = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        http.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        Socket? door = DoorSocket.Bind(dataFolder, out string why);
        Assert.True(door is not null, why);
        new HostPorts(http, null, door).Listen(builder.WebHost, dataFolder);
        WebApplication app = builder.Build();
        app.UseWebSockets();
        app.Map(DoorServer.Path, context => context.RequestServices.GetRequiredService<DoorServer>().RunAsync(context));
        await app.StartAsync();
        return new DoorHost(app, archive, new Uri($"http://{http.LocalEndPoint}/"));
    }

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync();
        await _app.DisposeAsync();
        Archive.Dispose();
    }
}
