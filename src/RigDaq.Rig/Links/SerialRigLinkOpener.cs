using RigDaq.Rig.Text;

namespace RigDaq.Rig.Links;

/// <summary>Opens a serial port.</summary>
/// <param name="settings">Which, and how.</param>
public sealed class SerialRigLinkOpener(SerialLinkSettings settings) : IRigLinkOpener
{
    /// <inheritdoc/>
    public string Name => RigText.PortAtRate(settings.Path, settings.BaudRate);

    /// <inheritdoc/>
    // Opening can wait for the driver: not on the caller's thread.
    public async ValueTask<IRigLink> OpenAsync(CancellationToken cancellation) =>
        await Task.Run(() => SerialRigLink.OpenBest(settings), cancellation).ConfigureAwait(false);
}
