using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace RigDaq.Publishing.Tests.Support;

/// <summary>Programs of Debian's that some tests need; without them those tests are skipped by name.</summary>
internal static class Tools
{
    public static string? Find(string name) =>
        new[] { "/usr/bin", "/usr/sbin", "/usr/local/bin", "/usr/local/sbin" }.Select(d => Path.Combine(d, name))
            .FirstOrDefault(File.Exists);

    public static string Require(string name, string package)
    {
        string? path = Find(name);
        Assert.SkipUnless(path is not null, $"{name} is not installed (Debian: apt-get install {package}).");
        return path!;
    }

    public static int FreePort()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }

    public static Process Start(string path, params string[] arguments)
    {
        var info = new ProcessStartInfo(path) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in arguments) info.ArgumentList.Add(argument);
        return Process.Start(info)!;
    }
}
