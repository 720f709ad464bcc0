namespace RigDaq.Core.Signal;

/// <summary>What a channel besides the force is, as its device described it. A value is (raw − zero) × numerator / denominator of its
/// unit.</summary>
public sealed record ChannelHead
{
    /// <summary>Of <see cref="Kind"/>: a second force, in newtons.</summary>
    public const string Force = "force";

    /// <summary>Of <see cref="Kind"/>: how far the gauge length of the specimen has stretched, in millimetres; positive longer.</summary>
    public const string Extension = "extension";

    /// <summary>Of <see cref="Kind"/>: in degrees Celsius.</summary>
    public const string Temperature = "temperature";

    /// <summary>Of <see cref="Kind"/>: something else; unit and name say what.</summary>
    public const string Other = "other";

    /// <summary>The most channels of a device.</summary>
    public const int ChannelsMax = 8;

    /// <summary>The raw value that says that there is none.</summary>
    public const int NoValue = -(1 << 23);

    /// <summary>Which channel of its device, from 0.</summary>
    public required int Index { get; init; }

    /// <summary>"force", "extension", "temperature" or "other".</summary>
    public required string Kind { get; init; }

    /// <summary>Its name for people; may be empty.</summary>
    public required string Name { get; init; }

    /// <summary>Its unit: N, mm and °C for the kinds that have theirs.</summary>
    public required string Unit { get; init; }

    /// <summary>One value for so many conversions of the force, 1 or more.</summary>
    public required int Divider { get; init; }

    /// <summary>The raw value that stands for 0.</summary>
    public required int Zero { get; init; }

    /// <summary>Not 0.</summary>
    public required int Numerator { get; init; }

    /// <summary>Above 0.</summary>
    public required long Denominator { get; init; }

    /// <summary>The lowest raw value that is believed.</summary>
    public required int RawMin { get; init; }

    /// <summary>The greatest.</summary>
    public required int RawMax { get; init; }

    /// <summary>The smallest difference of raw values that means something, 1 or more.</summary>
    public int Resolution { get; init; } = 1;

    /// <summary>How long before its stamp a value looked at what it measures, in seconds.</summary>
    public double DelaySeconds { get; init; }

    /// <summary>Whether values can be made of it.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public bool IsUsable => Index is >= 0 and < ChannelsMax && Divider > 0 && Numerator != 0 && Denominator > 0 && RawMin < RawMax
        && Resolution > 0;

    /// <summary>A raw value in its unit; null where it says that there is none or is not to be believed.</summary>
    public double? Value(int raw) => raw == NoValue || raw < RawMin || raw > RawMax ? null : ((double)raw - Zero) * Numerator / Denominator;
}
