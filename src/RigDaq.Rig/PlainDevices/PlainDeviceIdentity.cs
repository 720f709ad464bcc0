using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>
/// Who a device is that cannot say so itself. Its id is made of the name that a person gave it (or of what an instrument answered to
/// <c>*IDN?</c>), so that its calibration is found again wherever it is plugged in; another cell or amplifier needs another name.
/// </summary>
/// <param name="Name">For people.</param>
/// <param name="Id">The identity.</param>
public sealed record PlainDeviceIdentity(string Name, ulong Id)
{
    /// <summary>The longest name in characters.</summary>
    public const int NameMax = 120;

    /// <summary>An identity from a name.</summary>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    public static PlainDeviceIdentity Of(string name)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        string whole = name.Trim();
        if (whole.Length > NameMax) whole = whole[..NameMax];
        ulong id = BinaryPrimitives.ReadUInt64BigEndian(SHA256.HashData(Encoding.UTF8.GetBytes("plain device: " + whole)));
        return new PlainDeviceIdentity(whole, id);
    }
}
