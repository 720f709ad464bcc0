using System.Buffers.Binary;
using System.Net.Sockets;
using System.Runtime.InteropServices;
using Microsoft.AspNetCore.Connections.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;

namespace RigDaq.Web.Access;

/// <summary>
/// Who calls through this machine's own socket or pipe, as the system tells it: somebody who could open the data folder as well, and so
/// may do what the operator may.
/// </summary>
/// <param name="UserId">The user's number; null on a system that does not tell, where the socket's folder alone keeps others out.</param>
/// <param name="ProcessId">The process's number; null likewise.</param>
public sealed partial record LocalCaller(uint? UserId, int? ProcessId)
{
    private const uint Root = 0;
    private const int SolSocket = 1; // SOL_SOCKET and SO_PEERCRED of Linux: struct ucred { pid, uid, gid }
    private const int PeerCredentials = 17;
    private static readonly object Key = new();

    /// <summary>Lets only this daemon's user and root come in through a listening socket, and remembers who it was.</summary>
    public static void Admit(ListenOptions listen) => listen.Use(next => connection =>
    {
        LocalCaller? caller = Of(connection.Features.Get<IConnectionSocketFeature>()?.Socket);
        if (caller is not { IsOfHere: true }) return Task.CompletedTask;
        connection.Items[Key] = caller;
        return next(connection);
    });

    /// <summary>Who calls; null where a request came by the network.</summary>
    internal static LocalCaller? Of(HttpContext context) =>
        context.Features.Get<IConnectionItemsFeature>()?.Items.TryGetValue(Key, out object? caller) == true ? (LocalCaller?)caller : null;

    // Null where a system that could tell does not.
    private static LocalCaller? Of(Socket? socket)
    {
        if (!OperatingSystem.IsLinux()) return new LocalCaller(null, null);
        if (socket is null) return null;
        Span<byte> told = stackalloc byte[12];
        socket.GetRawSocketOption(SolSocket, PeerCredentials, told);
        return new LocalCaller(BinaryPrimitives.ReadUInt32LittleEndian(told[4..]), BinaryPrimitives.ReadInt32LittleEndian(told));
    }

    /// <summary>What this user is called; root where it is root.</summary>
    internal string UserName => UserId == Root ? "root" : Environment.UserName;

    private bool IsOfHere => UserId is not { } user || user == Root || user == geteuid();

    [LibraryImport("libc")]
    private static partial uint geteuid();
}
