using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using RigDaq.App.Access;
using RigDaq.App.Configuration;
using RigDaq.App.Rigs;
using RigDaq.Daemon.Door;
using RigDaq.Publishing.Broker;
using RigDaq.Web.Access;

namespace RigDaq.Daemon.Hosting;

/// <summary>What the one web host listens on, all of it taken before anything else was done: nobody can have come in between.</summary>
/// <param name="Http">The pages' port.</param>
/// <param name="Mqtt">The embedded broker's port; null without one.</param>
/// <param name="Door">The socket for commands of this machine; null where there is none.</param>
internal sealed record HostPorts(Socket Http, Socket? Mqtt, Socket? Door)
{
    /// <summary>The port for looking from elsewhere; null where it is closed.</summary>
    public Socket? Look { get; init; }

    /// <summary>The port for operating from elsewhere; null where it is closed.</summary>
    public Socket? Operate { get; init; }

    /// <summary>What is shown there.</summary>
    public X509Certificate2? Certificate { get; init; }

    /// <summary>What the pages know of these.</summary>
    public AccessOptions Access(HttpOptions options) => new()
    {
        Hosts = options.Hosts,
        BehindProxy = options.Proxy,
        LookPort = Look is null ? null : PortPicker.PortOf(Look),
        OperatePort = Operate is null ? null : PortPicker.PortOf(Operate),
        Fingerprint = Certificate is null ? null : OwnCertificate.Fingerprint(Certificate),
    };

    /// <summary>The embedded broker's port number.</summary>
    public int? MqttPort => Mqtt is null ? null : PortPicker.PortOf(Mqtt);

    /// <summary>Has a host listen.</summary>
    public void Listen(IWebHostBuilder host, string dataFolder)
    {
        Socket[] taken = [.. new[] { Http, Mqtt, Door, Look, Operate }.OfType<Socket>()];
        host.UseSockets(transport => transport.CreateBoundListenSocket =
            endpoint => taken.First(socket => Equals(socket.LocalEndPoint, endpoint)));
        if (OperatingSystem.IsWindows()) host.UseNamedPipes();
        host.ConfigureKestrel(kestrel =>
        {
            kestrel.Listen((IPEndPoint)Http.LocalEndPoint!);
            if (Mqtt is not null) kestrel.Listen((IPEndPoint)Mqtt.LocalEndPoint!, listen => listen.UseRigDaqBroker());
            if (Look is not null) kestrel.Listen((IPEndPoint)Look.LocalEndPoint!, listen => Entrances.Admit(listen, Entrance.Look));
            if (Operate is not null) kestrel.Listen((IPEndPoint)Operate.LocalEndPoint!, listen =>
            {
                Entrances.Admit(listen, Entrance.Operate);
                listen.UseHttps(Certificate!);
            });
            if (OperatingSystem.IsWindows()) kestrel.ListenNamedPipe(DoorAddress.PipeName(dataFolder), LocalCaller.Admit);
            else if (Door?.LocalEndPoint is UnixDomainSocketEndPoint door) kestrel.ListenUnixSocket(door.ToString(), LocalCaller.Admit);
        });
    }
}
