using System.Net;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Settings;

/// <summary>The broker in this process: where it listens and who may connect.</summary>
public sealed class EmbeddedBrokerOptions
{
    /// <summary>The most users that can be configured.</summary>
    public const int UsersMax = 100;

    /// <summary>The greatest packet in bytes after the log-in; a greater one ends its connection. A run's message has some
    /// kilobytes.</summary>
    public const int PacketBytesMax = 128 * 1024;

    /// <summary>How many bytes clients' own retained messages may have together; they live in memory.</summary>
    public const int RetainedBytesMax = 16 * 1024 * 1024;

    /// <summary>How many bytes of clients' own messages are taken at once; then as many a second as
    /// <see cref="ForeignBytesPerSecond"/>.</summary>
    public const int ForeignBytesMax = 8 * 1024 * 1024;

    /// <summary>How many bytes of clients' own messages are taken a second, in the long run.</summary>
    public const int ForeignBytesPerSecond = 1024 * 1024;

    /// <summary>A session that nobody has come back for in this time is ended.</summary>
    public static readonly TimeSpan AbsentMax = TimeSpan.FromDays(7);

    /// <summary>The address it listens on; loopback by default. Any other one needs users.</summary>
    public string Address { get; set; } = "127.0.0.1";

    /// <summary>The port; 0 for any free one.</summary>
    public int Port { get; set; } = 1883;

    /// <summary>Who may connect; empty for anyone on this machine.</summary>
    public IList<BrokerUser> Users { get; init; } = [];

    /// <summary>The greatest first packet in bytes; a greater one is refused before anything is allocated for it.</summary>
    public int FirstPacketBytesMax { get; set; } = 16 * 1024;

    /// <summary>How many clients may be connected at once, 1 to 10,000.</summary>
    public int ClientsMax { get; set; } = 100;

    /// <summary>How many clients that are away may have a session, 1 to 1,000.</summary>
    public int AbsentSessionsMax { get; set; } = 50;

    /// <summary>How many topics of clients' own may hold a retained message; they live in memory.</summary>
    public int RetainedTopicsMax { get; set; } = 1000;

    internal void AddProblems(List<string> problems)
    {
        if (!IPAddress.TryParse(Address, out IPAddress? address))
        {
            problems.Add(PublishingText.AddressNotPossible(Address));
        }
        else if (!IPAddress.IsLoopback(address) && Users.Count == 0)
        {
            problems.Add(PublishingText.UsersNeeded(Address));
        }

        if (Port is < 0 or > 65535) problems.Add(PublishingText.OwnPortNotPossible(Port));
        if (FirstPacketBytesMax is < 256 or > 1024 * 1024) problems.Add(PublishingText.FirstPacketNotPossible(FirstPacketBytesMax));
        if (ClientsMax is < 1 or > 10_000) problems.Add(PublishingText.ClientsNotPossible(ClientsMax));
        if (AbsentSessionsMax is < 1 or > 1_000) problems.Add(PublishingText.AbsentSessionsNotPossible(AbsentSessionsMax));
        if (RetainedTopicsMax is < 0 or > 100_000) problems.Add(PublishingText.RetainedTopicsNotPossible(RetainedTopicsMax));
        if (Users.Count > UsersMax) problems.Add(PublishingText.UsersTooMany(Users.Count, UsersMax));
        var names = new HashSet<string>(StringComparer.Ordinal);
        for (int i = 0; i < Users.Count; i++)
        {
            if (Users[i].User.Length == 0) problems.Add(PublishingText.UserEmpty(i));
            else if (!names.Add(Users[i].User)) problems.Add(PublishingText.UserTwice(i, Users[i].User));
            if (Users[i].Password.Length == 0) problems.Add(PublishingText.UserWithoutPassword(i));
        }
    }
}

/// <summary>Someone who may connect to the embedded broker.</summary>
public sealed class BrokerUser
{
    /// <summary>The name.</summary>
    public string User { get; set; } = "";

    /// <summary>The password.</summary>
    public string Password { get; set; } = "";
}
