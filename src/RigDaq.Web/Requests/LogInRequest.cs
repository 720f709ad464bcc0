using RigDaq.App;

namespace RigDaq.Web.Requests;

/// <summary>Somebody logs in.</summary>
internal sealed record LogInRequest : IPageRequest
{
    /// <summary>The account.</summary>
    public string Name { get; set; } = "";

    /// <summary>Its password.</summary>
    public string Password { get; set; } = "";
}
