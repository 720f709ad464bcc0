using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>A device that prints numbers or is asked for them.</summary>
public sealed record PlainDeviceSettings
{
    /// <summary>How its lines are read.</summary>
    public required LineFormat Format { get; init; }

    /// <summary>How it is asked; null where it prints by itself.</summary>
    public QueryFormat? Query { get; init; }

    /// <summary>Its name. Its identity, and with it its calibration, hangs on it, unless an instrument says who it is.</summary>
    public required string Name { get; init; }

    /// <summary>What is wrong with them, each in words; empty where nothing is.</summary>
    public IReadOnlyList<Sentence> Problems() =>
    [
        .. Format.Problems(),
        .. Query?.Problems() ?? [],
        .. string.IsNullOrWhiteSpace(Name) ? [RigText.DeviceNeedsName] : Array.Empty<Sentence>(),
    ];
}
