namespace RigDaq.Web.Access;

/// <summary>For whom an address is open that comes from elsewhere; one without it is for who has logged in.</summary>
/// <param name="Everybody">Also without link and log-in: what a page is made of, and where one comes in.</param>
internal sealed record OpenTo(bool Everybody);
