namespace RigDaq.Rig.Text;

/// <content>Why a device is not known.</content>
internal static partial class RigText
{
    public static string DoesNotAnswer(string link) => $"The device at {link} tells its state but does not answer commands; the connection is made anew.";

    public static string DoesNotSayWhatItIs(string link) => $"The device at {link} talks but does not say what it is: check its firmware.";

    public static string NoFrames(string link) =>
        $"Bytes arrive from {link}, but none of them is a frame: the baud rate differs, or it is another kind of device. Set the baud rate of its firmware.";

    public static string NothingArrives(string link) =>
        $"Nothing arrives from {link}: check that the device has power, that this is its port, and that its firmware is installed.";

    public static string OtherVersion(string link, byte major, byte minor, byte ours) => $"The device at {link} speaks version {major}.{minor} of the wire, this program version {ours}: "
        + (major > ours ? "update this program." : "update the device's firmware.");
}
