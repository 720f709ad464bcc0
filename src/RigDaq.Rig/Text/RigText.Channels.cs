using System.Globalization;
using RigDaq.Protocol.Messages;

namespace RigDaq.Rig.Text;

/// <content>What the line can carry, and channels.</content>
internal static partial class RigText
{
    /// <summary>The kinds that have their unit have it whatever the device says.</summary>
    public static string UnitOf(ChannelKind kind, string said) => kind switch
    {
        ChannelKind.Force => "N",
        ChannelKind.Extension => "mm",
        ChannelKind.Temperature => "°C",
        _ => said,
    };

    public static string RateTooMuchForLine(double wanted, double bytes, double carried, double own) => string.Create(
        CultureInfo.InvariantCulture,
        $"{wanted:0.#} samples/s take {bytes:0} bytes/s, and the line carries {carried:0}: the device was left at {own:0.#} samples/s. Raise the baud rate of device and program, or ask for fewer.");

    public static string LineNearlyFull(double rate, double bytes, double carried) => string.Create(
        CultureInfo.InvariantCulture,
        $"{rate:0.#} samples/s take {bytes:0} bytes/s of the {carried:0} that the line carries by its baud rate; beyond four fifths samples may be lost. Raise the baud rate, or ask for fewer; a device with native USB is not bound by it.");

    public static string ChannelTooMuchForLine(string channel, double bytes, double taken, double carried) => string.Create(
        CultureInfo.InvariantCulture,
        $"Channel “{channel}” was left off: it takes {bytes:0} bytes/s beside {taken:0}, and the line carries {carried:0}, of which a fifth is kept free. Raise the baud rate, or ask for fewer samples a second.");

    public static string ChannelNotDescribed(int channel) =>
        $"The device did not describe its channel {channel + 1} in a way that can be used, so it is left off. Check its firmware (PROTOCOL.md, 20).";
}
