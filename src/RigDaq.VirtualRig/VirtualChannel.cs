using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual;

/// <summary>A channel of a virtual rig besides its force: what it tells of, how often and how well.</summary>
public sealed record VirtualChannel
{
    /// <summary>What it tells of: a second force, an extension or a temperature.</summary>
    public required ChannelKind Kind { get; init; }

    /// <summary>A name for people, at most 32 bytes of UTF-8.</summary>
    public required string Name { get; init; }

    /// <summary>One value for so many conversions of the force, 1 to 65,535.</summary>
    public int Divider { get; init; } = 1;

    /// <summary>Raw values in one of its unit (N, mm, °C): 10,000 a millimetre are a tenth of a micrometre each.</summary>
    public int RawPerUnit { get; init; } = 10_000;

    /// <summary>The raw value that stands for nothing.</summary>
    public int Zero { get; init; }

    /// <summary>The noise, as a standard deviation in its unit.</summary>
    public double Noise { get; init; }

    /// <summary>What it can tell of either way, in its unit; beyond it there is no value.</summary>
    public double Range { get; init; } = 800;

    /// <summary>Of a second force: its gain's error in per cent.</summary>
    public double GainErrorPercent { get; init; }

    /// <summary>Of an extension: the part of the specimen's own stretching that lies between the knives, above 0, at most 1.</summary>
    public double GaugeShare { get; init; } = 0.5;

    /// <summary>Of a temperature: where it stands at first, in °C. It wanders by a third of a degree in ten minutes.</summary>
    public double DegreesCelsius { get; init; } = 23;

    /// <summary>A contacting extensometer: two knives on the specimen see their part of its stretching and nothing of machine and grips.
    /// Without a specimen there is no value.</summary>
    public static VirtualChannel Extensometer { get; } = new()
    {
        Kind = ChannelKind.Extension,
        Name = "Extensometer",
        Noise = 0.0003,
        Range = 20
    };

    /// <summary>A thermometer near the specimen, one value for a hundred conversions.</summary>
    public static VirtualChannel Thermometer { get; } =
        new() { Kind = ChannelKind.Temperature, Name = "At the grips", Divider = 100, RawPerUnit = 256, Noise = 0.01, Range = 200 };

    /// <summary>A second cell in the same load train.</summary>
    public static VirtualChannel SecondCell { get; } =
        new()
        {
            Kind = ChannelKind.Force,
            Name = "Second cell",
            RawPerUnit = 4_000,
            Zero = 25_000,
            Noise = 0.05,
            Range = 2_000,
            GainErrorPercent = 0.2
        };
}
