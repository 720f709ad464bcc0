namespace RigDaq.Core.Calibration.Quality;

/// <summary>What a person knows of the cell and the room, for the uncertainty of a force.</summary>
public sealed record UncertaintyInputs
{
    /// <summary>Full scale of the cell in newtons; null where it is not known.</summary>
    public double? FullScaleNewtons { get; init; }

    /// <summary>Non-linearity from the cell's data sheet, in per cent of full scale; null where it is not known (then a usual one is
    /// assumed, and said to be).</summary>
    public double? NonLinearityPercent { get; init; }

    /// <summary>Whether the data sheet means the best straight line (then doubled) and not the terminal line.</summary>
    public bool NonLinearityOfBestLine { get; init; }

    /// <summary>Temperature effect on the slope, in per cent per kelvin; null where it is not known (then a usual one is assumed, and said
    /// to be).</summary>
    public double? TemperaturePercentPerKelvin { get; init; }

    /// <summary>How far the temperature may lie from that of the calibration, in kelvin, either way; null where it was not said (then a
    /// usual one is assumed, and said to be).</summary>
    public double? TemperatureSpreadKelvin { get; init; }
}
