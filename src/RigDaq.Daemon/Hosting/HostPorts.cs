using System.Net;
using System.Net.Sockets;
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
    /// <summary>The embedded broker's port number.</summary>
    public int? MqttPort => Mqtt is null ? null : PortPicker.PortOf(Mqtt);

    /// <summary>Has a host listen.</summary>
    public void Listen(IWebHostBuilder host, string dataFolder)
    {
        Socket[] taken = [.. new[] { Http, Mqtt, Door }.OfType<Socket>()];
        host.UseSockets(transport => transport.CreateBoundListenSocket =
            endpoint => taken.First(socket => Equals(socket.LocalEndPoint, endpoint)));
        if (OperatingSystem.IsWindows()) host.UseNamedPipes();
        host.ConfigureKestrel(kestrel =>
        {
            kestrel.Listen((IPEndPoint)Http.LocalEndPoint!);
            if (Mqtt is not null) kestrel.Listen((IPEndPoint)Mqtt.LocalEndPoint!, listen => listen.UseRigDaqBroker());
            if (OperatingSystem.IsWindows()) kestrel.ListenNamedPipe(DoorAddress.PipeName(dataFolder), LocalCaller.Admit);
            else if (Door?.LocalEndPoint is UnixDomainSocketEndPoint door) kestrel.ListenUnixSocket(door.ToString(), LocalCaller.Admit);
        });
    }
}
