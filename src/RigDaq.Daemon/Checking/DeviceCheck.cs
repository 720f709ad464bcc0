using RigDaq.Daemon.Configuration;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Conformance;
using RigDaq.Rig.Links;

namespace RigDaq.Daemon.Checking;

/// <summary>Holds the connected device to PROTOCOL.md from the outside. Nothing is moved.</summary>
internal static class DeviceCheck
{
    /// <exception cref="InputException">No port is set.</exception>
    /// <exception cref="IOException">The port cannot be opened, or the line ended.</exception>
    public static async Task<IReadOnlyList<ConformanceFinding>> RunAsync(SerialOptions serial, TimeProvider time, CancellationToken cancellation)
    {
        if (serial.Path is not { } path) throw new InputException(TerminalText.CheckDevicePortMissing);
        var opener = new SerialRigLinkOpener(new SerialLinkSettings { Path = path, BaudRate = serial.Baud, RaiseDtr = serial.RaiseDtr });
        IRigLink link = await opener.OpenAsync(cancellation).ConfigureAwait(false);
        await using (link.ConfigureAwait(false))
        {
            return await ConformanceRun.RunAsync(new LinkConformanceLine(link, time), mayMove: false).ConfigureAwait(false);
        }
    }
}
