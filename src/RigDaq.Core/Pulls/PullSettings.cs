namespace RigDaq.Core.Pulls;

/// <summary>How a pull is driven and bounded.</summary>
public sealed record PullSettings
{
    /// <summary>Crosshead speed of the pull in mm/s, above 0.</summary>
    public double SpeedMillimetresPerSecond { get; init; } = 0.5;

    /// <summary>Crosshead speed while slack is taken up, in mm/s.</summary>
    public double SlackSpeedMillimetresPerSecond { get; init; } = 0.5;

    /// <summary>Crosshead speed of the return, in mm/s.</summary>
    public double ReturnSpeedMillimetresPerSecond { get; init; } = 5;

    /// <summary>Acceleration in mm/s².</summary>
    public double AccelerationMillimetresPerSecondSquared { get; init; } = 20;

    /// <summary>The force at which slack counts as taken up, in newtons.</summary>
    public double PreloadNewtons { get; init; } = 2;

    /// <summary>The greatest force in newtons; the device stops by itself there.</summary>
    public double ForceLimitNewtons { get; init; } = 900;

    /// <summary>The greatest force the other way, in newtons, as a positive figure.</summary>
    public double CompressionLimitNewtons { get; init; } = 50;

    /// <summary>How far from the start a pull may go, in mm.</summary>
    public double TravelLimitMillimetres { get; init; } = 20;

    /// <summary>How long a pull may last, in seconds.</summary>
    public double TimeLimitSeconds { get; init; } = 120;

    /// <summary>How long the zero is looked at, in seconds.</summary>
    public double ZeroSeconds { get; init; } = 1;

    /// <summary>How a break is told.</summary>
    public DetectionSettings Detection { get; init; } = new();
}
