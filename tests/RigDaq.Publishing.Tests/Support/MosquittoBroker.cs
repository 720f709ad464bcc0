using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace RigDaq.Publishing.Tests.Support;

/// <summary>Debian's broker, another implementation of the standard than the one in the process.</summary>
internal sealed class MosquittoBroker : IAsyncDisposable
{
    private readonly string _path;
    private readonly string _configuration;
    private readonly DirectoryInfo _folder;
    private Process? _process;

    private MosquittoBroker(string path, DirectoryInfo folder, string configuration, int port)
    {
        _path = path;
        _folder = folder;
        _configuration = configuration;
        Port = port;
    }

    public int Port { get; }

    public static async Task<MosquittoBroker> StartAsync(Func<DirectoryInfo, string>? more = null)
    {
        string path = Tools.Require("mosquitto", "mosquitto");
        DirectoryInfo folder = Directory.CreateTempSubdirectory("rigdaq-broker-");
        int port = Tools.FreePort();
        string configuration = Path.Combine(folder.FullName, "mosquitto.conf");
        string text = $"listener {port} 127.0.0.1\npersistence false\n" + (more?.Invoke(folder) ?? "allow_anonymous true\n");
        await File.WriteAllTextAsync(configuration, text, TestContext.Current.CancellationToken);
        var broker = new MosquittoBroker(path, folder, configuration, port);
        await broker.BeginAsync();
        return broker;
    }

    public async Task BeginAsync()
    {
        _process = Tools.Start(_path, "-c", _configuration);
        await Eventually.TrueAsync(Answers, "mosquitto listens");
    }

    public async Task EndAsync()
    {
        if (_process is null) return;
        _process.Kill();
        await _process.WaitForExitAsync(CancellationToken.None);
        _process.Dispose();
        _process = null;
    }

    public async ValueTask DisposeAsync()
    {
        await EndAsync();
        _folder.Delete(recursive: true);
    }

    private bool Answers()
    {
        Assert.False(_process!.HasExited, "mosquitto ended at once");
        try
        {
            using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
            socket.Connect(IPAddress.Loopback, Port);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
