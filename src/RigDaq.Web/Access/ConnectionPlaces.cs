using System.Net;
using System.Net.Sockets;

namespace RigDaq.Web.Access;

/// <summary>Places for connections from elsewhere: bounded as a whole and for each address, so that one device can neither fill this
/// machine nor keep all others out. Safe for several threads.</summary>
internal sealed class ConnectionPlaces
{
    /// <summary>How many connections one port from elsewhere has at once…</summary>
    internal const int ConnectionsMax = 128;

    /// <summary>…and how many of them one address: a browser opens six, and a few people may sit behind one.</summary>
    internal const int ConnectionsOfOneMax = 32;

    private readonly Lock _lock = new();
    private readonly Dictionary<UInt128, int> _taken = [];
    private int _all;

    internal bool TryTake(IPAddress? from)
    {
        UInt128 whom = WhomOf(from);
        lock (_lock)
        {
            int own = _taken.GetValueOrDefault(whom);
            if (_all == ConnectionsMax || own == ConnectionsOfOneMax) return false;
            _taken[whom] = own + 1;
            _all++;
            return true;
        }
    }

    internal void GiveBack(IPAddress? from)
    {
        UInt128 whom = WhomOf(from);
        lock (_lock)
        {
            _all--;
            if (--_taken[whom] == 0) _taken.Remove(whom);
        }
    }

    /// <summary>Whom an address counts for: with IPv6 the network that one household or device has to itself, its first 64 bits (RFC 4291,
    /// 2.5.1), since it has as many addresses in that as it likes.</summary>
    internal static UInt128 WhomOf(IPAddress? address)
    {
        if (address is null) return 0;
        Span<byte> bytes = stackalloc byte[16];
        address.MapToIPv6().TryWriteBytes(bytes, out _);
        bool isNetwork = address.AddressFamily == AddressFamily.InterNetworkV6 && !address.IsIPv4MappedToIPv6;
        if (isNetwork) bytes[8..].Clear();
        return System.Buffers.Binary.BinaryPrimitives.ReadUInt128BigEndian(bytes);
    }
}
