namespace RigDaq.Web.Access;

/// <summary>Which way a request came in.</summary>
public enum Entrance
{
    /// <summary>This machine's own address: whoever has this start's key stands at the rig.</summary>
    OwnMachine,

    /// <summary>From elsewhere, to look and to stop, by a link.</summary>
    Look,

    /// <summary>From elsewhere, by TLS and a log-in.</summary>
    Operate,
}
