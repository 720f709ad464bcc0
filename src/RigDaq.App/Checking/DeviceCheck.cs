using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Protocol.Conformance;
using RigDaq.Rig.Links;

namespace RigDaq.App.Checking;

/// <summary>Holds the connected device to PROTOCOL.md from the outside. Nothing is moved.</summary>
internal static class DeviceCheck
{
    /// <summary>What this machine may add to a time that is held: it shares its processors.</summary>
    private const int SlackMilliseconds = 60;

    /// <exception cref="InputException">No port is set.</exception>
    /// <exception cref="IOException">The port cannot be opened, or the line ended.</exception>
    public static async Task<IReadOnlyList<ConformanceFinding>> RunAsync(SerialOptions serial, TimeProvider time,
        CancellationToken cancellation)
    {
        if (serial.Path is not { } path) throw new InputException(AppText.CheckDevicePortMissing);
        var opener = new SerialRigLinkOpener(new SerialLinkSettings { Path = path, BaudRate = serial.Baud, RaiseDtr = serial.RaiseDtr });
        IRigLink link = await opener.OpenAsync(cancellation).ConfigureAwait(false);
        await using (link.ConfigureAwait(false))
        {
            var line = new LinkConformanceLine(link, time);
            IReadOnlyList<ConformanceFinding> checks = await ConformanceRun.RunAsync(line, mayMove: false).ConfigureAwait(false);
            if (checks.All(c => c.Outcome == ConformanceOutcome.Fails)) return checks; // nobody is there to talk with
            return [.. checks, .. await ConversationReplay.RunAsync(line, mayMove: false, slackMilliseconds: SlackMilliseconds)
                .ConfigureAwait(false)];
        }
    }
}
