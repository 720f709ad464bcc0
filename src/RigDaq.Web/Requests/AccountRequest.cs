using RigDaq.App;

namespace RigDaq.Web.Requests;

/// <summary>An account is made or changed.</summary>
internal sealed record AccountRequest : IPageRequest
{
    /// <summary>Its name.</summary>
    public string Name { get; set; } = "";

    /// <summary>look, operate or administer; null leaves it.</summary>
    public string? Role { get; set; }

    /// <summary>Its password; null leaves it.</summary>
    public string? Password { get; set; }
}
