using RigDaq.Core.Calibration.Guided;

namespace RigDaq.App.Calibrations;

/// <summary>What a person does to a calibration.</summary>
internal sealed record CalibrationStep : IPageRequest
{
    /// <summary>The name of a <see cref="PersonAction"/>.</summary>
    public string Action { get; set; } = "";

    /// <summary>The degree to accept, 1 to 3.</summary>
    public int Degree { get; set; } = 1;
}
