namespace RigDaq.Core.Callers;

/// <summary>By whom something was done, as it is kept beside it: the name that somebody goes by here, which is what they said or what
/// the system knows, and proves nothing.</summary>
/// <param name="Name">The name; empty where nobody said one.</param>
/// <param name="From">From where: <see cref="Terminal"/>, <see cref="Page"/>, or another machine's address.</param>
public sealed record By(string Name, string From)
{
    /// <summary>At a terminal of the rig's machine.</summary>
    public const string Terminal = "terminal";

    /// <summary>At a page in a browser of the rig's machine.</summary>
    public const string Page = "page";

    /// <summary>No name is longer.</summary>
    public const int NameMax = 60;

    /// <summary>No place is longer: an IPv6 address with its zone fits.</summary>
    public const int FromMax = 80;

    /// <summary>Whether neither is longer than it may be.</summary>
    public bool IsWithinBounds() => Name.Length <= NameMax && From.Length <= FromMax;

    /// <summary>As it is shown: name and place, or the place alone.</summary>
    public override string ToString() => Name.Length == 0 ? From : $"{Name} ({From})";
}
