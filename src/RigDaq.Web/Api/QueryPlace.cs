namespace RigDaq.Web.Api;

/// <summary>Something that an address may say behind its question mark.</summary>
/// <param name="Name">Of it.</param>
/// <param name="Means">What it says, for the document of the interface.</param>
internal sealed record QueryPlace(string Name, string Means);
