namespace RigDaq.Publishing.Messages;

/// <summary>The last will, and what is published before a planned end.</summary>
internal sealed record OfflineMessage(int Version, bool Online)
{
    internal static byte[] Payload { get; } = PayloadJson.Write(new OfflineMessage(PayloadJson.Version, Online: false));
}
