namespace RigDaq.Web.Views;

/// <summary>What a browser needs that wants to hear of alarms.</summary>
/// <param name="PublicKey">By which push services know this rig, base64url.</param>
/// <param name="Devices">How many browsers hear of them.</param>
internal sealed record PushView(string PublicKey, int Devices);
