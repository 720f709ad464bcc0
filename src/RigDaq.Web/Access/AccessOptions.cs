namespace RigDaq.Web.Access;

/// <summary>How the pages are to be had from elsewhere.</summary>
public sealed record AccessOptions
{
    /// <summary>Nowhere else than on this machine.</summary>
    public static AccessOptions OwnMachineOnly { get; } = new();

    /// <summary>Names besides this machine's own that the pages are asked for by, in a network or from a proxy.</summary>
    public IReadOnlyList<string> Hosts { get; init; } = [];

    /// <summary>Whether a proxy on this machine passes requests on.</summary>
    public bool BehindProxy { get; init; }

    /// <summary>The port for looking from elsewhere; null where it is closed.</summary>
    public int? LookPort { get; init; }

    /// <summary>The port for operating from elsewhere; null where it is closed.</summary>
    public int? OperatePort { get; init; }

    /// <summary>The SHA-256 of the certificate that the port for operating shows, in pairs of digits; null where it is closed.</summary>
    public string? Fingerprint { get; init; }
}
