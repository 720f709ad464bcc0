using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Calibration;

/// <summary>Under what a calibration was made: all that is needed to make it again.</summary>
public sealed record CalibrationCircumstances
{
    /// <summary>Who made it; empty where that was not said.</summary>
    public string Person { get; init; } = "";

    /// <summary>Where.</summary>
    public string Place { get; init; } = "";

    /// <summary>The load cell: maker's mark, capacity, serial number.</summary>
    public string Cell { get; init; } = "";

    /// <summary>The amplifier's settings (gain, rate): another setting is another calibration.</summary>
    public string AmplifierSetting { get; init; } = "";

    /// <summary>The converter's rate while it was made, in samples a second; null where that is not known.</summary>
    public double? SampleRateHertz { get; init; }

    /// <summary>Room temperature in degrees Celsius; null where it was not read.</summary>
    public double? TemperatureCelsius { get; init; }

    /// <summary>Local gravity; null where no weight hung.</summary>
    public LocalGravity? Gravity { get; init; }

    /// <summary>The air; null where no weight hung.</summary>
    public AirDensity? Air { get; init; }

    /// <summary>The weights that hung.</summary>
    public IReadOnlyList<Weight> Weights { get; init; } = [];

    /// <summary>Free words.</summary>
    public string Remarks { get; init; } = "";
}
