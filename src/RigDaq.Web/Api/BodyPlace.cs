namespace RigDaq.Web.Api;

/// <summary>
/// What goes into the body of a request, for the document of the interface alone: what a request says of its own media type decides
/// nothing, its content does.
/// </summary>
/// <param name="Of">What it is as JSON; null for a file.</param>
/// <param name="MediaTypes">What it may be, with commas between.</param>
internal sealed record BodyPlace(Type? Of, string MediaTypes);
