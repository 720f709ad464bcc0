using RigDaq.Rig.Links;

namespace RigDaq.Rig.PlainDevices;

/// <summary>Opens the line to a device that prints numbers or is asked for them: what arrives is text, and no frames.</summary>
public sealed class PlainDeviceOpener : IRigLinkOpener
{
    private readonly IRigLinkOpener _line;

    /// <summary>Speaks so on a line.</summary>
    /// <param name="line">Opens it.</param>
    /// <param name="settings">How the device speaks.</param>
    /// <exception cref="ArgumentException">The settings are not in order; the message says what is wrong.</exception>
    public PlainDeviceOpener(IRigLinkOpener line, PlainDeviceSettings settings)
    {
        if (settings.Problems() is { Count: > 0 } problems) throw new ArgumentException(string.Join("; ", problems), nameof(settings));
        (_line, Settings) = (line, settings);
    }

    /// <inheritdoc/>
    public string Name => _line.Name;

    /// <summary>How the device speaks.</summary>
    public PlainDeviceSettings Settings { get; }

    /// <inheritdoc/>
    public ValueTask<IRigLink> OpenAsync(CancellationToken cancellation) => _line.OpenAsync(cancellation);
}
