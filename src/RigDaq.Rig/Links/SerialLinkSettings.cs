namespace RigDaq.Rig.Links;

/// <summary>Where the device is and how its line is set: eight data bits, no parity, one stop bit.</summary>
public sealed record SerialLinkSettings
{
    /// <summary>The rate that is tried where none is set.</summary>
    public const int BaudRateDefault = 250_000;

    /// <summary>The port's path: <c>/dev/serial/by-id/...</c>, <c>/dev/ttyACM0</c>, <c>COM3</c>.</summary>
    public required string Path { get; init; }

    /// <summary>Bits a second, above 0. A board with native USB ignores it.</summary>
    public int BaudRate { get; init; } = BaudRateDefault;

    /// <summary>Whether DTR is raised. On some boards that restarts the device; best effort, a pseudo-terminal has none.</summary>
    public bool RaiseDtr { get; init; } = true;

    /// <summary>Whether RTS is raised; best effort.</summary>
    public bool RaiseRts { get; init; } = true;
}
