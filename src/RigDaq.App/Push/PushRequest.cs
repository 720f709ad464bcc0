namespace RigDaq.App.Push;

/// <summary>A browser wants to hear of alarms, or no longer.</summary>
internal sealed record PushRequest : IPageRequest
{
    /// <summary>Where its push service takes messages for it.</summary>
    public string Endpoint { get; set; } = "";

    /// <summary>Its public key, base64url.</summary>
    public string Key { get; set; } = "";

    /// <summary>Its shared secret, base64url.</summary>
    public string Secret { get; set; } = "";
}
