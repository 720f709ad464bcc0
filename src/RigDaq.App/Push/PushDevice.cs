namespace RigDaq.App.Push;

/// <summary>A browser that wants to hear of alarms, also while no page is open in it.</summary>
/// <param name="Endpoint">Where its push service takes messages for it (RFC 8030).</param>
/// <param name="Key">Its public key, base64url (RFC 8291: p256dh).</param>
/// <param name="Secret">What it shares with whoever writes to it, base64url (RFC 8291: auth).</param>
/// <param name="By">By whom it was asked for.</param>
/// <param name="At">When.</param>
internal sealed record PushDevice(string Endpoint, string Key, string Secret, string By, DateTimeOffset At);
