using System.CommandLine;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;

namespace RigDaq.Daemon.Commands;

/// <summary>What every command at the rig begins with: the configuration, where it stands (for messages), and the line to the device that
/// it names.</summary>
internal sealed record RigAtHand(DaemonOptions Options, string Source, IRigLinkOpener Link)
{
    private static readonly TimeSpan ReadyMax = TimeSpan.FromSeconds(30);

    /// <exception cref="InputException">The configuration is wrong, or names no port.</exception>
    public static RigAtHand Read(ParseResult parsed, Option<string?> config)
    {
        string? file = parsed.GetValue(config);
        DaemonOptions options = OptionsReader.Read(file, CommandPlace.Settings);
        string source = file ?? AppText.RigEnvironment;
        return options.Serial.Path is { } path
            ? new RigAtHand(options, source, DeviceLine.Opener(options.Serial, path))
            : throw new InputException(TerminalText.RigPortMissing(source));
    }

    /// <summary>Waits until the device has said hello and sends counts.</summary>
    /// <exception cref="CannotBeDoneException">It did not in time.</exception>
    public static Task<RigSnapshot> ReadyAsync(RigController rig, CancellationToken cancellation) =>
        rig.WhenAsync(s => s.Link == LinkStage.Up && s.Counts is not null, ReadyMax, TerminalText.RigHello, cancellation);
}
