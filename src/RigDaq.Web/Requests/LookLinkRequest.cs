using RigDaq.App;

namespace RigDaq.Web.Requests;

/// <summary>Somebody comes by the look link.</summary>
internal sealed record LookLinkRequest : IPageRequest
{
    /// <summary>What the link holds behind #.</summary>
    public string Look { get; set; } = "";
}
