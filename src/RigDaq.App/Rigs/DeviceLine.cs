using RigDaq.App.Configuration;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Text;

namespace RigDaq.App.Rigs;

/// <summary>The line to the device that the configuration names: one that speaks the wire, one that prints numbers, one that is
/// asked.</summary>
internal static class DeviceLine
{
    /// <summary>How long a device's own claim holds before a person has to accept it again.</summary>
    public static readonly TimeSpan ClaimValidity = TimeSpan.FromDays(90);

    /// <summary>Opens it.</summary>
    /// <param name="serial">The configuration; in order.</param>
    /// <param name="path">The port.</param>
    public static IRigLinkOpener Opener(SerialOptions serial, string path)
    {
        IRigLinkOpener port = Port(serial, path);
        return PlainDevice(serial, path) is { } plain ? new PlainDeviceOpener(port, plain) : port;
    }

    /// <summary>The port alone, whatever is spoken on it.</summary>
    public static IRigLinkOpener Port(SerialOptions serial, string path) =>
        new SerialRigLinkOpener(new SerialLinkSettings { Path = path, BaudRate = serial.Baud, RaiseDtr = serial.RaiseDtr });

    /// <summary>How a plain device speaks; null for one that speaks the wire.</summary>
    public static PlainDeviceSettings? PlainDevice(SerialOptions serial, string path)
    {
        if (serial.Speaks == "wire") return null;
        bool isAsked = serial.Speaks == "queries";
        LineOptions lines = serial.Lines ?? new LineOptions { Quantity = isAsked ? "newtons" : "counts" };
        return lines.ToFormat() is not { } format ? null : new PlainDeviceSettings
        {
            Format = format,
            Query = isAsked ? (serial.Queries ?? new QueryOptions()).ToFormat() : null,
            Name = serial.Device ?? path,
        };
    }

    /// <summary>The device's own claim about its forces, kept so that runs can name it; null where the configuration does not accept it, or
    /// where there is none.</summary>
    public static CalibrationRecord? AcceptedClaim(DaemonOptions options, string deviceId, CalibrationRepository calibrations,
        TimeProvider time, Action<Sentence> say)
    {
        SerialOptions serial = options.Serial;
        if (!serial.AcceptClaimedForces || serial.Path is not { } path || PlainDevice(serial, path) is not { } plain) return null;
        if (DeviceClaim.Calibration(plain.Format, deviceId, time.GetUtcNow(), ClaimValidity) is not { } claim) return null;
        calibrations.Save(claim);
        say(AppText.RigClaimTaken(DeviceClaim.Warning));
        return claim;
    }
}
