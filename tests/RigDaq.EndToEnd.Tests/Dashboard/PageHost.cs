using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Access;
using RigDaq.App.Configuration;
using RigDaq.App.Overview;
using RigDaq.App.Rigs;
using RigDaq.Archive;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Hosting;
using RigDaq.Rig.Control;
using RigDaq.Web;
using RigDaq.Web.Access;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>The dashboard in a host of its own, on a free port of loopback.</summary>
internal sealed class PageHost : IAsyncDisposable
{
    private readonly WebApplication _app;

    private PageHost(WebApplication app, FakeRig rig, FakeData data, RigArchive archive, string folder)
    {
        _app = app;
        Archive = archive;
        DataFolder = folder;
        Rig = rig;
        Data = data;
        Url = new Uri(app.Urls.First());
    }

    /// <summary>What is open from elsewhere.</summary>
    public AccessOptions Elsewhere => _app.Services.GetRequiredService<AccessOptions>();

    /// <summary>What of the program is behind the pages.</summary>
    public T Service<T>() where T : notnull => _app.Services.GetRequiredService<T>();

    /// <summary>Every address that something is mapped at, with how it is asked for.</summary>
    public IEnumerable<RouteEndpoint> Endpoints => _app.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>();

    public FakeRig Rig { get; }

    public FakeData Data { get; }

    /// <summary>A real archive for the pages of runs, in a folder of its own.</summary>
    public RigArchive Archive { get; }

    public RunRepository Runs => Archive.Runs;

    public string DataFolder { get; }

    /// <summary>The address without the key.</summary>
    public Uri Url { get; }

    /// <summary>Every address that something is mapped at, as it is written in the program.</summary>
    public IEnumerable<string> Addresses => _app.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        .Select(endpoint => "/" + endpoint.RoutePattern.RawText!.TrimStart('/'));

    /// <summary>The address that the daemon prints.</summary>
    public Uri KeyedUrl => _app.Services.GetRequiredService<DashboardAccess>().StartAddress(Url.Port);

    public static async Task<PageHost> StartAsync(FakeRig? rig = null, int port = 0, Units? units = null, ILoggerProvider? log = null,
        HttpOptions? elsewhere = null)
    {
        rig ??= new FakeRig();
        var data = new FakeData { Units = units ?? Units.Si };
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        if (log is not null) builder.Logging.AddProvider(log);
        builder.Services.AddSingleton<ILiveRig>(rig);
        builder.Services.AddSingleton<IDashboardData>(data);
        string folder = Directory.CreateTempSubdirectory("rigdaq-page-").FullName;
        var archive = new RigArchive(folder, TimeProvider.System, NullLogger<RigArchive>.Instance);
        builder.Services.AddSingleton(archive);
        builder.Services.AddDashboard();
        if (elsewhere is null) builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, port));
        else Open(builder, folder, elsewhere);
        WebApplication app = builder.Build();
        app.MapDashboard();
        await app.StartAsync(TestContext.Current.CancellationToken);
        return new PageHost(app, rig, data, archive, folder);
    }

    /// <summary>The ways in from elsewhere, as the daemon opens them.</summary>
    private static void Open(WebApplicationBuilder builder, string folder, HttpOptions http)
    {
        var options = new DaemonOptions { Data = folder, Http = http };
        var ports = new HostPorts(PortPicker.Take(0, out _), null, null)
        {
            Look = PortPicker.TakeEverywhere(0),
            Operate = PortPicker.TakeEverywhere(0),
            Certificate = OwnCertificate.Of(options, TimeProvider.System),
        };
        builder.Services.AddSingleton(ports.Access(http));
        builder.WebHost.UseKestrelHttpsConfiguration();
        ports.Listen(builder.WebHost, folder);
    }

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync(CancellationToken.None);
        await _app.DisposeAsync();
        await Rig.DisposeAsync();
        Archive.Dispose();
        if (Directory.Exists(DataFolder)) Directory.Delete(DataFolder, recursive: true); // Ending it twice is allowed.
    }
}
