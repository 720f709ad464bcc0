using RigDaq.App;

namespace RigDaq.Web.Requests;

/// <summary>A stop: it asks for nothing.</summary>
internal sealed record StopRequest : IPageRequest;
